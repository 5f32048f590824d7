import { describe, expect, it } from 'vitest';
import { exact } from '../../../src-shared/quantity/estimate.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { simulate } from '../../../src-shared/quantity/monte-carlo.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

const given = { coldOhms: 3.42, coldCelsius: 20, hotOhms: 4.22, ambientCelsius: 25, metal: 'copper' };
const normal = (value: number, u: number) => ({ ...exact(value), u });

describe('temperature by resistance', () => {
  it('counts the rise from the ambient at the end, not from the cold reading', () => {
    const { results } = accept('temperature-by-resistance', given);
    expect(results.rise.value).toBeCloseTo(results.hotCelsius.value - 25, 12);
  });

  it('gives a cooler winding for aluminium', () => {
    const hot = (metal: string) => accept('temperature-by-resistance', { ...given, metal }).results.hotCelsius.value;
    expect(hot('aluminium')).toBeLessThan(hot('copper'));
  });

  it('has the uncertainty that drawing the inputs shows', () => {
    const tree = {
      cold: normal(3.42, 0.01),
      theta: normal(20, 0.5),
      hot: normal(4.22, 0.012),
      ambient: normal(25, 0.4),
    };
    const drawn = simulate(
      tree,
      ({ cold, theta, hot, ambient }) => (hot / cold) * (234.5 + theta) - 234.5 - ambient,
      seededGenerator(1),
      100_000,
    );
    const { rise } = accept('temperature-by-resistance', {
      coldOhms: { value: 3.42, u: 0.01 },
      coldCelsius: { value: 20, u: 0.5 },
      hotOhms: { value: 4.22, u: 0.012 },
      ambientCelsius: { value: 25, u: 0.4 },
      metal: 'copper',
    }).results;
    expect(rise.u).toBeCloseTo(drawn.u, 1);
    expect(rise.interval95?.[0]).toBeCloseTo(drawn.interval95[0], 1);
    expect(rise.interval95?.[1]).toBeCloseTo(drawn.interval95[1], 1);
  });

  it('holds the truth 94 to 97 % of the time when errors are drawn as stated, with 8 degrees of freedom too', () => {
    const draw = seededGenerator(7);
    const trials = 4000;
    const truth = { cold: 3.42, theta: 21, hot: 4.3, ambient: 24 };
    const rise = (truth.hot / truth.cold) * (234.5 + truth.theta) - 234.5 - truth.ambient;
    let held = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      // The uncertainty of the hot reading is seen in 8 degrees of freedom: it scatters itself.
      const seen = Math.sqrt(Array.from({ length: 8 }, () => draw.normal() ** 2).reduce((a, b) => a + b) / 8);
      const { interval95 } = accept('temperature-by-resistance', {
        coldOhms: { value: truth.cold + 0.006 * draw.normal(), u: 0.006 },
        coldCelsius: {
          value: truth.theta + 0.3 * (2 * draw.uniform() - 1),
          u: 0.3 / Math.sqrt(3),
          shape: 'rectangular',
        },
        hotOhms: { value: truth.hot + 0.02 * draw.normal(), u: 0.02 * seen, dof: 8 },
        ambientCelsius: { value: truth.ambient + 0.4 * draw.normal(), u: 0.4 },
        metal: 'copper',
      }).results.rise;
      if (interval95 !== null && interval95[0] <= rise && rise <= interval95[1]) held += 1;
    }
    expect(held / trials).toBeGreaterThan(0.94);
    expect(held / trials).toBeLessThan(0.97);
  });

  it('lets a gain that both readings share cancel', () => {
    const gain = (value: number) => ({ value, u: 0, shared: { id: 'ohms', u: value * 0.01 } });
    const answer = accept('temperature-by-resistance', { ...given, coldOhms: gain(3.42), hotOhms: gain(4.22) });
    expect(answer.results.rise.u).toBe(0);
  });

  it.each([
    [{ hotOhms: 8 }, 'outside-linear'],
    [{ hotOhms: 3 }, 'below-ambient'],
    [{ coldOhms: 0.342, hotOhms: 0.422 }, 'lead-resistance'],
  ])('warns of %j', (extra, code) => {
    expect(cautionCodes(accept('temperature-by-resistance', { ...given, ...extra }))).toContain(code);
  });

  it('takes neither metal silently, and not two constants', () => {
    const { metal, ...without } = given;
    expect(metal).toBe('copper');
    expect(refusal('temperature-by-resistance', without)).toMatchObject({ code: 'missing-key', path: 'metal' });
    const both = { ...given, constantCelsius: 235 };
    expect(refusal('temperature-by-resistance', both)).toMatchObject({ code: 'conflict', path: 'constantCelsius' });
    expect(refusal('temperature-by-resistance', { ...given, coldOhms: 0 })).toMatchObject({ path: 'coldOhms' });
  });
});
