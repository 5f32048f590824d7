import { describe, expect, test } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { comparisonOf } from '../../../src-shared/comparison/comparison.ts';
import type { SentencePart } from '../../../src-shared/comparison/sentence.ts';
import type { BuildRecord } from '../../../src-shared/comparison/build-record.ts';
import type { Supply } from '../../../src-shared/record/session.ts';
import { rowWords } from '../../../src-shared/comparison/row-words.ts';
import { toldOf } from '../../../src-shared/comparison/trust.ts';
import { mains, record } from './given.ts';

const words = (parts: readonly SentencePart[]): string =>
  parts.map((part) => (typeof part === 'string' ? part : `${part.value.toPrecision(3)} ${part.unit}`)).join('');
const verdicts = ({ answer }: ReturnType<typeof comparisonOf>) =>
  answer.ok
    ? new Map(answer.results.quantities.map(({ quantity, verdict }) => [quantity, verdict]))
    : new Map<string, string>();

describe('two builds of a core', () => {
  test('says what was done, what fell with it, and by how much', () => {
    const found = comparisonOf(record({ number: 2 }), record({ number: 3, turns: 178, amps: 0.381 }));
    expect(words(found.sentence)).toMatch(
      /^With 14 more turns on “Primary”: the no-load current fell by 0\.331 A and the core loss fell by 14\.8 W\./,
    );
    expect(verdicts(found).get('No-load current')).toBe('changed');
    expect(verdicts(found).get('Primary: turns')).toBe('changed');
    expect(verdicts(found).get('Primary: resistance at 20 °C')).toBe('no-visible-change');
  });

  test('calls a build that changed nothing so', () => {
    const found = comparisonOf(record({ number: 2 }), record({ number: 3, amps: 0.7125 }));
    expect(words(found.sentence)).toBe(
      'Nothing that these meters can see has changed. In 3 quantities these meters can see no change.',
    );
  });

  test('takes out what one meter adds to both: its gain hides no change', () => {
    const apart = (shared: boolean) => {
      const [one, other] = [record({ number: 2, amps: 1 }), record({ number: 3, amps: 1.027 })];
      if (!shared) {
        for (const result of other.results) {
          Object.assign(result, {
            input: JSON.parse(JSON.stringify(result.input).replace('clamp, 2 A', 'another clamp')),
          });
        }
      }
      return verdicts(comparisonOf(one, other)).get('No-load current');
    };
    expect(apart(true)).toBe('changed');
    expect(apart(false)).toBe('no-visible-change');
  });

  test('does not compare at unlike volts, hertz or supplies, and says which differ first', () => {
    const lamp: Supply = { ...mains, kind: 'mains-through-lamp', hertz: 60 };
    const found = comparisonOf(record({ number: 2 }), record({ number: 3, amps: 0.381, supply: lamp }));
    expect(verdicts(found).get('No-load current')).toBe('not-comparable');
    expect(found.conditions.slice(0, 2).map(({ name, differs }) => [name, differs])).toEqual([
      ['Frequency', true],
      ['Supply', true],
    ]);
    expect(words(found.sentence)).toMatch(/2 quantities cannot be compared/);
    const high = comparisonOf(record({ number: 2 }), record({ number: 3, amps: 0.9, volts: 238 }));
    expect(verdicts(high).get('No-load current')).toBe('not-comparable');
  });

  test('names a joint that was made anew', () => {
    const { answer, conditions } = comparisonOf(record({ number: 2 }), record({ number: 3, joint: 'clamped' }));
    expect(answer.ok && answer.cautions.map(({ code }) => code)).toContain('joint-differs');
    expect(conditions[0]).toEqual({
      name: 'Joint',
      before: 'as welded',
      after: 'clamped',
      differs: true,
      effect: 'Nothing takes this out: whatever it does is in the differences.',
    });
  });

  test('takes the newest of several results, and leaves out what cannot be read', () => {
    const before = record({ number: 2 });
    const newest = record({ number: 2, amps: 0.5 }).results.map((result) => ({ ...result, resultId: 9 }));
    const broken = newest.map((result) => ({ ...result, resultId: 10, calculation: 'heat-run', output: { ok: true } }));
    const found = comparisonOf(
      { ...before, results: [...newest, ...broken, ...before.results] },
      record({ number: 3 }),
    );
    const amps =
      found.answer.ok && found.answer.results.quantities.find(({ quantity }) => quantity === 'No-load current');
    expect(amps).toMatchObject({ before: 0.5, after: 0.712 });
    expect(verdicts(found).has('Final rise')).toBe(false);
  });

  test('holds no-load points at like volts against each other, as a sweep leaves them', () => {
    const sweep = (number: number, turns: number, volts: readonly number[]): BuildRecord => {
      const points = volts.map((at) => record({ number, turns, volts: at, amps: at / 300 }));
      const results = points.flatMap((point, index) =>
        point.results.map((result) => ({ ...result, resultId: 10 * number + index })),
      );
      return { ...record({ number, turns }), results };
    };
    const found = comparisonOf(sweep(2, 164, [230, 180, 150, 240]), sweep(3, 178, [150, 230.4]));
    expect(found.rows.find(({ compared }) => compared.quantity === 'No-load current')).toMatchObject({
      before: { value: 230 / 300 },
      after: { value: 230.4 / 300 },
    });
  });

  test('says that there is nothing to compare', () => {
    const bare = (number: number): BuildRecord => {
      const whole = record({ number });
      return { ...whole, results: [], build: { ...whole.build, windings: [] } };
    };
    const found = comparisonOf(bare(2), bare(3));
    expect(found.answer.ok).toBe(false);
    expect(words(found.sentence)).toBe('Nothing was measured on both that can be compared.');
  });
});

describe('insulation of two builds', () => {
  /** A build with insulation readings, in MΩ, one after the other. */
  function tested(number: number, read: readonly (readonly [between: string, megohms: number])[], more: object = {}) {
    const base = record({ number });
    const results = read.map(([between, value], at) => {
      const input = {
        ...{ megohms: { value, u: 0.03 * value }, testVolts: 500, minimumMegohms: 5, basis: 'own choice', between },
        ...{ oneEndOnCore: 'no', celsius: 21, ...more },
      };
      const output = calculate('insulation-resistance', input);
      return {
        ...{ resultId: 100 * number + at, buildId: number, runId: number, version: 1, wallMs: 0, input },
        calculation: 'insulation-resistance',
        output: JSON.parse(JSON.stringify(output)) as unknown,
      };
    });
    return { ...base, results: [...base.results, ...results] };
  }
  const rowOf = (found: ReturnType<typeof comparisonOf>, name: string) =>
    found.rows.find(({ compared }) => compared.quantity === name);
  const toCore = 'Insulation between primary and core';

  test('is held against each other between the same two, the newest reading of each, by its run', () => {
    const before = tested(2, [
      ['Primary and core', 90],
      ['primary  and core ', 200],
      ['Primary and output', 310],
    ]);
    const found = comparisonOf(before, tested(3, [['Primary and Core', 120]]));
    const row = rowOf(found, toCore);
    expect(row).toMatchObject({ before: { value: 200, unit: 'MΩ' }, after: { value: 120 }, runs: [2, 3] });
    expect(row?.compared).toMatchObject({ verdict: 'changed', difference: { value: -80 } });
    // Two readings apart: each 3 % by itself.
    expect(row?.compared.u).toBeCloseTo(Math.hypot(6, 3.6), 9);
    expect(rowOf(found, 'Insulation between primary and output')?.compared.reason).toBe('only-in-one');
  });

  test('is not compared at another test voltage, nor at temperatures far apart, nor with one end on the core', () => {
    const before = tested(2, [['primary and core', 200]]);
    const reasonWith = (more: object) =>
      rowOf(comparisonOf(before, tested(3, [['primary and core', 120]], more)), toCore)?.compared;
    expect(reasonWith({ testVolts: 250 })).toMatchObject({ verdict: 'not-comparable', condition: 'testVolts' });
    expect(reasonWith({ celsius: 34 })).toMatchObject({ verdict: 'not-comparable', condition: 'celsius' });
    expect(reasonWith({ celsius: 23.5 })).toMatchObject({ verdict: 'changed' });
    expect(reasonWith({ oneEndOnCore: 'yes' })).toMatchObject({ reason: 'only-in-one' });
  });
});

describe('what only one of the two has', () => {
  const [first, second] = [record({ number: 2 }), record({ number: 3 })];
  const after: BuildRecord = {
    ...second,
    build: {
      ...second.build,
      windings: second.build.windings.flatMap((each) => [
        each,
        { ...each, fields: { ...each.fields, label: 'Cutter' } },
      ]),
    },
  };

  test('is not called unmeasured where the winding is not there', () => {
    const row = comparisonOf(first, after).rows.find(({ compared }) => compared.quantity === 'Cutter: turns');
    if (row === undefined) throw new Error('The new winding has turns.');
    expect(rowWords(row, 'metric')).toMatchObject({
      before: 'not on it',
      after: '164.00 ± 0.40',
      verdict: 'on one only',
    });
  });

  test('turns added to one measured count are known exactly, however doubtful that count', () => {
    const counted = (build: BuildRecord, value: number, resultId: number): BuildRecord => ({
      ...build,
      build: {
        ...build.build,
        windings: build.build.windings.map((each) => ({
          ...each,
          fields: { ...each.fields, turns: { kind: 'estimated', value, u: 1.9, resultId } },
        })),
      },
    });
    const turnsRow = (resultId: number) =>
      comparisonOf(counted(first, 412, 5), counted(second, 452, resultId)).rows.find(
        ({ compared }) => compared.quantity === 'Primary: turns',
      );
    expect(turnsRow(5)?.compared).toMatchObject({ verdict: 'changed', difference: { value: 40 }, u: 0 });
    expect(turnsRow(6)?.compared.u).toBeCloseTo(1.9 * Math.SQRT2, 9);
  });

  test('two cores are not told as one that was rewound, and one not measured yet differs in nothing', () => {
    const other = { ...after, results: [], build: { ...after.build, coreId: 2 } };
    const found = comparisonOf(first, other);
    expect(words(found.sentence)).not.toMatch(/wound on|taken off/);
    expect(found.conditions.filter(({ differs }) => differs)).toEqual([]);
    const told = toldOf(first, other, found, [], []);
    expect(told.trust.map(({ text }) => text).join(' ')).not.toMatch(/Not alike|same conditions/);
  });
});
