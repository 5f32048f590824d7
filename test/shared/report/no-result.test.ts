import { describe, expect, test } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { noResult } from '../../../src-shared/report/no-result.ts';

/** A straight rise, 10 K in an hour: nothing bends. */
const straight = calculate('heat-run', {
  points: Array.from({ length: 7 }, (_, step) => ({
    seconds: step * 300,
    celsius: { value: 20 + (step * 5) / 6, u: 0.05 },
  })),
});
const twoWire = calculate('two-wire-resistance', { ohms: 1.9, celsius: 20 });
const bent = calculate('two-wire-resistance', { ohms: 9, celsius: 20 });

describe('a run without a kept result', () => {
  test('of a heat run says what stands in the way of its final value, and nothing beside it', () => {
    expect(noResult('heat-run', straight, null, true)).toMatchObject({
      title: 'No result was kept',
      fit: { kind: 'none', title: 'No final value' },
      sentence: null,
    });
  });

  test('says what was missing, or why the calculation refused', () => {
    expect(noResult('heat-run', null, 'It begins with power on.', true)).toEqual({
      title: 'No result was kept',
      fit: null,
      sentence: 'It begins with power on.',
    });
    expect(noResult('four-wire-resistance', twoWire, null, false)).toMatchObject({
      title: 'No result is kept yet',
      sentence: expect.stringContaining('Under 2 ohm') as string,
    });
  });

  test('with an answer says that nobody kept it', () => {
    expect(noResult('four-wire-resistance', bent, null, true)?.sentence).toMatch(
      /^Nothing of it was kept as a result\./,
    );
  });

  test('of which nothing is known has nothing to say', () => {
    expect(noResult('no-load', null, null, true)).toBeNull();
  });
});
