import { describe, expect, it } from 'vitest';
import { calculations } from '../../../src-shared/calculation/table.ts';

describe('the refusals of an input', () => {
  it('are all of them, not the first alone, each with its path and code', () => {
    const given = { openCircuit: { volts: -1, amps: 'two', watts: 62, side: 'top' }, turnsRatio: 0 };
    const said = calculations['equivalent-circuit'].refusals(given).map(({ code, path }) => `${path}: ${code}`);
    expect(said).toEqual(
      expect.arrayContaining([
        'openCircuit.volts: negative',
        'openCircuit.amps: wrong-type',
        'openCircuit.side: not-a-choice',
        'shortCircuit: missing-key',
        'turnsRatio: zero',
        'referTo: missing-key',
      ]),
    );
  });

  it.each(Object.values(calculations))('are none for the example of $name', ({ refusals, example }) => {
    expect(refusals(example)).toEqual([]);
  });

  it('of a list say what is wanted, not that its places are misspelt keys', () => {
    const error = { code: 'wrong-type', message: 'Expected one object of named values, not a list.', path: '' };
    for (const { answer, refusals } of Object.values(calculations)) {
      expect(answer([1, 2])).toEqual({ ok: false, error });
      expect(refusals([1, 2])).toEqual([error]);
    }
  });

  it('begin with what the calculation itself refuses first', () => {
    for (const { answer, refusals } of Object.values(calculations)) {
      const outcome = answer({});
      const said = refusals({});
      if (said.length > 0) expect(outcome).toEqual({ ok: false, error: said[0] });
    }
  });
});
