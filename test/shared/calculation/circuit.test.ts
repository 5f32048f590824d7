import { describe, expect, it } from 'vitest';
import { exact } from '../../../src-shared/quantity/estimate.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { simulate } from '../../../src-shared/quantity/monte-carlo.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('equivalent circuit', () => {
  const openCircuit = { volts: 120, amps: 2, watts: 60, side: 'low' };
  const shortCircuit = { volts: 10, amps: 5, watts: 40, side: 'high' };
  const given = { openCircuit, shortCircuit, turnsRatio: 4, referTo: 'high' };

  it('refers each branch by the ratio squared', () => {
    const high = accept('equivalent-circuit', given).results;
    const low = accept('equivalent-circuit', { ...given, referTo: 'low' }).results;
    expect(high.coreLossResistance.value).toBeCloseTo(16 * 240, 9);
    expect(low.coreLossResistance.value).toBeCloseTo(240, 9);
    expect(high.equivalentResistance.value).toBeCloseTo(1.6, 12);
    expect(low.equivalentResistance.value).toBeCloseTo(0.1, 12);
    expect(high.equivalentReactance.value).toBeCloseTo(1.2, 12);
    expect(high.equivalentImpedance.value).toBeCloseTo(2, 12);
  });

  it('takes the resistance by d.c. in place of the watts', () => {
    const { results } = accept('equivalent-circuit', {
      ...given,
      shortCircuit: { volts: 10, amps: 5, equivalentOhms: 1.6, side: 'high' },
    });
    expect(results.equivalentReactance.value).toBeCloseTo(1.2, 12);
  });

  it('takes the copper loss of the fed winding off', () => {
    const { results } = accept('equivalent-circuit', {
      ...given,
      openCircuit: { ...openCircuit, windingOhms: 1 },
      referTo: 'low',
    });
    expect(results.coreLossResistance.value).toBeCloseTo((120 ** 2 - 2 * 60 + 4) / 56, 9);
  });

  it('has the uncertainty that drawing the inputs shows', () => {
    const normal = (value: number, u: number) => ({ ...exact(value), u });
    const drawn = simulate(
      { volts: normal(10, 0.05), amps: normal(5, 0.03), watts: normal(40, 0.4) },
      ({ volts, amps, watts }) => Math.sqrt((volts / amps) ** 2 - (watts / amps ** 2) ** 2),
      seededGenerator(3),
      100_000,
    );
    const { equivalentReactance } = accept('equivalent-circuit', {
      ...given,
      shortCircuit: {
        volts: { value: 10, u: 0.05 },
        amps: { value: 5, u: 0.03 },
        watts: { value: 40, u: 0.4 },
        side: 'high',
      },
    }).results;
    expect((equivalentReactance.u ?? NaN) / drawn.u).toBeCloseTo(1, 1);
  });

  it('cannot tell the doubt of a reactance that is lost in the resistance', () => {
    const lost = { ...given, shortCircuit: { ...shortCircuit, watts: { value: 50, u: 1 } } };
    const answer = accept('equivalent-circuit', lost);
    expect(answer.results.equivalentReactance).toMatchObject({ value: 0, u: null });
    expect(cautionCodes(answer)).toContain('reactance-lost');
  });

  it.each([
    [{ openCircuit: { ...openCircuit, watts: 240 } }, 'conflict', 'openCircuit.watts'],
    [{ openCircuit: { ...openCircuit, windingOhms: 15 } }, 'conflict', 'openCircuit.windingOhms'],
    [{ shortCircuit: { ...shortCircuit, watts: 51 } }, 'conflict', 'shortCircuit.watts'],
    [{ shortCircuit: { ...shortCircuit, equivalentOhms: 1 } }, 'conflict', 'shortCircuit.equivalentOhms'],
    [{ shortCircuit: { volts: 10, amps: 5, side: 'high' } }, 'missing-key', 'shortCircuit.watts'],
    [
      { shortCircuit: { volts: 10, amps: 5, equivalentOhms: 3, side: 'high' } },
      'conflict',
      'shortCircuit.equivalentOhms',
    ],
    [{ turnsRatio: 0 }, 'zero', 'turnsRatio'],
  ])('refuses %j', (extra, code, path) => {
    expect(refusal('equivalent-circuit', { ...given, ...extra })).toMatchObject({ code, path });
  });
});

describe('load performance', () => {
  const given = {
    ratedVolts: 100,
    amps: 10,
    powerFactor: 0.8,
    sense: 'lagging',
    equivalentResistance: 0.3,
    equivalentReactance: 0.4,
  };

  it('is a plain drop where load and impedance have one angle', () => {
    // 0.3 + j0.4 has the angle of a power factor of 0.6.
    const { results } = accept('load-performance', { ...given, powerFactor: 0.6 });
    expect(results.sourceVolts.value).toBeCloseTo(105, 12);
    expect(results.regulationPercent.value).toBeCloseTo(500 / 105, 12);
    const loaded = accept('load-performance', { ...given, powerFactor: 0.6, regulationBase: 'loaded' });
    expect(loaded.results.regulationPercent.value).toBeCloseTo(5, 12);
  });

  it('can rise with a leading load', () => {
    const leading = { ...given, sense: 'leading', powerFactor: 0.2 };
    expect(accept('load-performance', leading).results.regulationPercent.value).toBeLessThan(0);
  });

  it('has its best efficiency where core and copper loss are equal', () => {
    const { results } = accept('load-performance', { ...given, coreLossWatts: 7.5 });
    expect(results.copperLoss.value).toBeCloseTo(30, 12);
    expect(results.loadForBestEfficiency?.value).toBeCloseTo(0.5, 12);
    expect(results.ampsForBestEfficiency?.value).toBeCloseTo(5, 12);
    expect(results.efficiencyPercent?.value).toBeCloseTo(80_000 / 837.5, 9);
    const at = (amps: number) =>
      accept('load-performance', { ...given, amps, coreLossWatts: 7.5 }).results.efficiencyPercent?.value ?? NaN;
    expect(at(5)).toBeGreaterThan(at(4.9));
    expect(at(5)).toBeGreaterThan(at(5.1));
  });

  it('has no efficiency without the core loss, and refuses a power factor over 1', () => {
    const answer = accept('load-performance', given);
    expect(answer.results).toMatchObject({ efficiencyPercent: null, loadForBestEfficiency: null });
    expect(cautionCodes(answer)).toContain('core-loss-not-known');
    expect(refusal('load-performance', { ...given, powerFactor: 1.1 })).toMatchObject({ path: 'powerFactor' });
  });
});

describe('iron loss split', () => {
  const loss = (hertz: number) => ({ hertz, watts: 0.5 * hertz + 0.01 * hertz ** 2 });

  it('finds both parts from two points, and from many', () => {
    for (const hertz of [
      [40, 60],
      [30, 40, 50, 60],
    ]) {
      const { results } = accept('iron-loss-split', { points: hertz.map(loss), atHertz: 50 });
      for (const [index, f] of hertz.entries()) {
        expect(results.hysteresis[index]?.value).toBeCloseTo(0.5 * f, 9);
        expect(results.eddy[index]?.value).toBeCloseTo(0.01 * f * f, 9);
      }
      expect(results.hysteresisAtHertz?.value).toBeCloseTo(25, 9);
      expect(results.eddyAtHertz?.value).toBeCloseTo(25, 9);
    }
  });

  it('takes the doubt from the scatter round the line where there is any', () => {
    const off = [0.3, -0.3, -0.3, 0.3];
    const points = [30, 40, 50, 60].map((hertz, index) => ({
      hertz,
      watts: loss(hertz).watts + (off[index] ?? 0) * hertz,
    }));
    const { wattsPerHertzSquared } = accept('iron-loss-split', { points }).results;
    // s² = 4 × 0.09 / 2, spread = 500.
    expect(wattsPerHertzSquared.u).toBeCloseTo(Math.sqrt(0.18 / 500), 9);
    expect(wattsPerHertzSquared.dof).toBeCloseTo(2, 9);
  });

  it('asks for one flux density', () => {
    const at = (volts: number) => ({
      points: [
        { ...loss(60), volts: 120 },
        { ...loss(50), volts },
      ],
    });
    expect(cautionCodes(accept('iron-loss-split', at(100)))).toEqual([]);
    expect(cautionCodes(accept('iron-loss-split', at(102)))).toEqual(['flux-not-constant']);
    expect(refusal('iron-loss-split', at(120))).toMatchObject({ code: 'conflict', path: 'points.1.volts' });
    const bare = { points: [loss(60), loss(50)] };
    expect(cautionCodes(accept('iron-loss-split', bare))).toEqual(['flux-assumed-constant']);
  });

  it('refuses one frequency twice, and one point', () => {
    const same = { points: [loss(50), loss(50)] };
    expect(refusal('iron-loss-split', same)).toMatchObject({ code: 'not-determined', path: 'points.1.hertz' });
    expect(refusal('iron-loss-split', { points: [loss(50)] })).toMatchObject({ code: 'too-few', path: 'points' });
  });
});
