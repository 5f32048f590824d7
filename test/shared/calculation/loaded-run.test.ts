import { describe, expect, it } from 'vitest';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

const currents = [0, 5, 10, 20, 30];
const straight = currents.map((amps) => ({ amps, volts: 25 - 0.04 * amps }));

describe('loaded run', () => {
  it('finds no-load volts, resistance and regulation of a straight line', () => {
    const { results } = accept('loaded-run', { points: straight });
    expect(results.openCircuitVolts.value).toBeCloseTo(25, 12);
    expect(results.outputResistance.value).toBeCloseTo(0.04, 12);
    expect(results.regulationPercent.value).toBeCloseTo(4.8, 12);
    expect(results.atAmps).toBe(30);
    expect(Math.max(...results.residuals.map(Math.abs))).toBeLessThan(1e-12);
    expect(accept('loaded-run', { points: straight, atAmps: 10 }).results.regulationPercent.value).toBeCloseTo(1.6, 12);
  });

  it('takes the sag of the house out', () => {
    const points = straight.map(({ amps, volts }) => {
      const primaryVolts = 120 - 0.1 * amps;
      return { amps, volts: (volts * primaryVolts) / 120, primaryVolts };
    });
    const referred = accept('loaded-run', { points, referenceVolts: 120 });
    expect(referred.results.outputResistance.value).toBeCloseTo(0.04, 12);
    expect(cautionCodes(referred)).not.toContain('house-sag');
    const raw = accept('loaded-run', { points });
    expect(raw.results.outputResistance.value).toBeGreaterThan(0.05);
    expect(cautionCodes(raw)).toContain('house-sag');
  });

  it('holds the truth about 95 % of the time by the scatter alone', () => {
    const draw = seededGenerator(3);
    const held = { volts: 0, ohms: 0, regulation: 0 };
    for (let trial = 0; trial < 1500; trial += 1) {
      const points = straight.map(({ amps, volts }) => ({ amps, volts: volts + 0.05 * draw.normal() }));
      const { openCircuitVolts, outputResistance, regulationPercent } = accept('loaded-run', { points }).results;
      const holds = (interval: readonly [number, number] | null, value: number) =>
        interval !== null && interval[0] <= value && value <= interval[1] ? 1 : 0;
      held.volts += holds(openCircuitVolts.interval95, 25);
      held.ohms += holds(outputResistance.interval95, 0.04);
      held.regulation += holds(regulationPercent.interval95, 4.8);
    }
    for (const count of Object.values(held)) {
      expect(count / 1500).toBeGreaterThan(0.935);
      expect(count / 1500).toBeLessThan(0.97);
    }
  });

  it('gives the efficiency where input power was read', () => {
    const points = [straight[0], { amps: 10, volts: 24.6, watts: 300 }];
    const { efficiencyPercent } = accept('loaded-run', { points }).results;
    expect(efficiencyPercent[0]).toBeNull();
    expect(efficiencyPercent[1]?.value).toBeCloseTo(82, 12);
  });

  it('refuses what makes no line', () => {
    const same = { points: [straight[1], straight[1]] };
    expect(refusal('loaded-run', same)).toMatchObject({ code: 'not-determined', path: 'points.1.amps' });
    const mixed = { points: [{ amps: 0, volts: 25, primaryVolts: 120 }, straight[1]], referenceVolts: 120 };
    expect(refusal('loaded-run', mixed)).toMatchObject({ code: 'missing-key', path: 'points.1.primaryVolts' });
  });
});
