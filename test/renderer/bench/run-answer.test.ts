import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { calculations } from '../../../src-shared/calculation/table.ts';
import { procedures } from '../../../src-shared/procedure/table.ts';
import { readAnswer, resultRows, sharesOf } from '../../../src-renderer/page/bench/run-answer.ts';

const answerOf = (name: string, input: unknown) => {
  const { answer } = readAnswer(calculate(name, input));
  if (answer === null) throw new Error(`${name} was refused.`);
  return answer;
};

describe('what a run comes to, in bench words', () => {
  it('has a line for the results of every procedure', () => {
    for (const { calculation, keeps } of procedures) {
      if (keeps === 'pairs') continue;
      const found = Object.entries(calculations).find(([name]) => name === calculation);
      expect(resultRows(answerOf(calculation, found?.[1].example)).length, calculation).toBeGreaterThan(0);
    }
  });

  it('puts the final rise of a heat run first, and long times in minutes', () => {
    const rows = resultRows(answerOf('heat-run', calculations['heat-run'].example));
    expect(rows[0]).toMatchObject({ label: 'Final rise', quantity: { unit: 'K' } });
    expect(rows.find(({ key }) => key === 'timeConstant')).toMatchObject({ quantity: { unit: 'min' } });
  });

  it('adds the shares of doubt by what they come from, the points of a run together', () => {
    const [first] = resultRows(answerOf('heat-run', calculations['heat-run'].example));
    if (first === undefined || !('quantity' in first)) throw new Error('No quantity.');
    const shares = sharesOf(first.quantity);
    expect(shares.map(({ word }) => word)).toEqual(['readings', 'ambient celsius']);
    expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 6);
  });

  it.each([
    ['polarity', 'They are'],
    ['insulation-resistance', 'Against the figure'],
    ['cooling', 'At switch-off'],
  ] as const)('leads with what %s is asked for', (name, label) => {
    expect(resultRows(answerOf(name, calculations[name].example))[0]?.label).toBe(label);
  });

  it('names the input that a bound refused', () => {
    const threeAmmeter = { totalAmps: 0, resistorAmps: 2, loadAmps: 1, resistorOhms: 60 };
    const refused = calculate('power-without-wattmeter', { method: 'three-ammeter', threeAmmeter });
    expect(readAnswer(refused, 'power-without-wattmeter').refusal).toBe('Both together: Must be above 0.');
  });

  it('says why there is none', () => {
    expect(readAnswer(calculate('heat-run', { points: [] })).refusal).not.toBeNull();
    expect(readAnswer(null)).toEqual({ answer: null, refusal: null });
  });
});
