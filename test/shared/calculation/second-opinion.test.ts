import { describe, expect, it } from 'vitest';
import { line, physical, worked } from '../../../src-shared/calculation/answer.ts';
import { defineCalculation } from '../../../src-shared/calculation/calculation.ts';
import { group, measured } from '../../../src-shared/calculation/field.ts';
import { propagate } from '../../../src-shared/quantity/propagate.ts';
import { accept, cautionCodes } from './ask.ts';

/** One formula as a calculation, for what the gate after every calculation says. */
const asked = (formula: (x: number) => number, x: unknown) => {
  const calculation = defineCalculation({
    name: 'sample',
    title: 'A sample',
    version: 1,
    sources: ['none'],
    input: group({ x: measured({ label: 'x' }) }),
    example: { x: 1 },
    run: (given) => {
      const found = propagate(given, (each) => formula(each.x));
      return worked({ y: physical('W', found) }, [line('y', 'f(x)', '', found.value, 'W')]);
    },
  });
  const answer = calculation.answer({ x });
  if (!answer.ok) throw new Error(answer.error.message);
  return answer;
};

describe('the caution on an interval that drawing does not bear out', () => {
  it('is not there where the two agree', () => {
    const answer = asked((x) => x ** 2, { value: 10, u: 0.1 });
    expect(answer.cautions).toEqual([]);
    expect(answer.results.y).not.toHaveProperty('drawn');
  });

  it('gives both intervals in words', () => {
    const answer = asked((x) => x ** 2, { value: 10, u: 3 });
    expect(cautionCodes(answer)).toEqual(['drawn-differs']);
    expect(answer.cautions[0]?.text).toMatch(
      /^The simple interval of y is -17\.6 to 217\.6 W; drawing the errors 20,000 times gives 1\d\.\d+ to 25\d\.\d+ W: trust the wider one\.$/,
    );
    const { drawn } = answer.results.y;
    // (10 ± 1.96 × 3)², but for the few draws that fall below 0.
    expect(drawn?.interval95[0]).toBeGreaterThan(15);
    expect(drawn?.interval95[0]).toBeLessThan(18.5);
    expect(drawn?.interval95[1]).toBeGreaterThan(248);
    expect(drawn?.interval95[1]).toBeLessThan(257);
  });

  it('gives the drawn one where there is no simple one', () => {
    const answer = asked((x) => x ** 2, { value: 0, u: 3 });
    expect(answer.results.y).toMatchObject({ u: null, interval95: null, drawn: { draws: 20_000 } });
    expect(answer.cautions[0]?.text).toMatch(/^No simple interval can be given for y; drawing the errors 20,000 times/);
    expect(cautionCodes(answer)).toEqual(['drawn-only']);
  });

  it('comes from a calculation of the table, and not from the same with better readings', () => {
    const bound = (u: number) =>
      accept('inrush-and-fuse', {
        volts: 120,
        supplyOhms: { value: 0.3, u },
        primaryOhms: 0.4,
        ratedAmps: 8,
        rule: 'us-primary-only',
      });
    expect(cautionCodes(bound(0.1))).toContain('drawn-differs');
    expect(cautionCodes(bound(0.005))).not.toContain('drawn-differs');
  });

  it('is heeded by the comparison: nothing is called changed that only the simple interval shows', () => {
    const state = (value: number, volts: unknown) => ({
      results: [{ quantity: 'amps', value, voltsExponent: { value: 6, u: 0.01 }, conditions: { volts } }],
    });
    const input = { before: state(2.1, { value: 100, u: 8 }), after: state(1, 100) };
    const [found] = accept('compare', input).results.quantities;
    expect(found?.difference?.interval95?.[1]).toBeLessThan(0);
    expect(found?.difference?.drawn?.interval95[1]).toBeGreaterThan(0);
    expect(found?.verdict).toBe('no-visible-change');
  });
});
