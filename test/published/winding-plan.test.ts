import { describe, expect, it } from 'vitest';
import { dowellFactor, skinDepth } from '../../src-shared/calculation/secondary/dowell.ts';
import { standardWires } from '../../src-shared/calculation/secondary/standard-wires.ts';
import { accept, cautionCodes } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

const annealed = 1 / 58;

describe('extra resistance of thick conductors', () => {
  // Any textbook of electromagnetism: copper at 20 °C.
  it('has a skin depth of 8.5 mm at 60 Hz and 9.3 mm at 50 Hz', () => {
    within(skinDepth(annealed, 60), 8.53, 0.02);
    within(skinDepth(annealed, 50), 9.35, 0.02);
  });

  // P. L. Dowell, Effects of eddy currents in transformer windings, Proc. IEE 113 (1966): low-order form, recomputed.
  it('takes 6 layers of 4 mm as 20 % and of 5 mm as 48 % more at 60 Hz', () => {
    within(dowellFactor(4 / 8.5, 6) - 1, 0.195, 0.01);
    within(dowellFactor(5 / 8.5, 6) - 1, 0.476, 0.015);
  });

  // The same paper: one thick layer behaves as a slab, whose resistance goes with its height in skin depths.
  it('closes on the height in skin depths for one very thick layer, and on 1 for thin ones', () => {
    within(dowellFactor(6, 1), 6, 0.001);
    within(dowellFactor(0.05, 10), 1, 1e-4);
    // Series and closed form meet.
    within(dowellFactor(0.3 - 1e-9, 8), dowellFactor(0.3 + 1e-9, 8), 2e-3);
  });
});

describe('flexible cable', () => {
  // IEC 60228, class 5, plain copper at 20 °C, largest resistance; from memory. The metal alone can only resist less.
  it.each([
    [1.5, 13.3],
    [2.5, 7.98],
    [4, 4.95],
    [6, 3.3],
    [10, 1.91],
    [16, 1.21],
    [25, 0.78],
    [35, 0.554],
    [50, 0.386],
    [70, 0.272],
  ])('%d mm² has at most %d Ω/km', (area, ohms) => {
    const cable = standardWires.metric.find(({ name }) => name === `${area} mm² cable`);
    expect(cable?.ohmsPerKm20).toBe(ohms);
    const solid = 1000 / 58 / area;
    expect(ohms).toBeGreaterThan(solid);
    expect(ohms).toBeLessThan(1.18 * solid);
  });
});

/**
 * Wm. T. McLyman, Transformer and Inductor Design Handbook, 3rd ed., chapter 7, the 250 W isolation transformer by core
 * geometry: 115 V in and out, 47 Hz, 1.6 T, EI-150 lamination, 263 and 276 turns of AWG 16. From memory, recomputed.
 */
describe('a 250 W isolation transformer', () => {
  const book = {
    primaryTurns: 263,
    primaryVolts: 115,
    hertz: 47,
    primaryOhms: 0.763,
    primaryMetal: 'copper',
    ironAreaMm2: 1310,
    windowWidthMm: 19.05,
    windowHeightMm: 57.15,
    leakageOhms: 0,
    loadAmps: 250 / 115,
    celsius: 20,
    leadsMm: 0,
    meanTurnMm: 220,
    wires: [{ awg: 16, film: 'nema-heavy' }],
    mostStrands: 1,
    over50Confirmed: true,
    mostTesla: 1.61,
  };

  it('runs at 1.6 T', () => {
    const { results } = accept('secondary', { ...book, loadVolts: 115 });
    within(results.peakFluxDensity?.value, 1.6, 0.002);
  });

  it('has 22.0 cm to the mean turn of a full window', () => {
    const { results } = accept('window-fit', {
      windowWidthMm: 19.05,
      windowHeightMm: 57.15,
      turns: 1,
      overallDiameterMm: 19.05,
      tongueMm: 38.1,
      stackMm: 38.1,
    });
    within(results.meanTurn?.value, 220, 1);
  });

  it('loses about 3 % in copper at 276 turns, 0.8 Ω of them', () => {
    const { results } = accept('secondary', { ...book, loadVolts: 117.1 });
    const [choice] = results.choices;
    expect(choice?.turns).toBe(276);
    within(choice?.ohms.value, 0.8, 0.004);
    within((choice?.copperLoss.value ?? NaN) / 250, 0.031, 0.001);
  });

  it('needs fewer than the 5 % that the book adds, since only 3 % are lost', () => {
    const { results } = accept('secondary', { ...book, loadVolts: 115 });
    expect(results.turns).toBeGreaterThan(263 * 1.025);
    expect(results.turns).toBeLessThan(276);
  });
});

describe('common practice, no source', () => {
  const core = { primaryTurns: 120, primaryVolts: 120, hertz: 60, primaryOhms: 0.4, primaryMetal: 'copper' };
  const room = { windowWidthMm: 20, windowHeightMm: 50, tongueMm: 45, stackMm: 65, leakageOhms: 0, mostTesla: 2 };

  it('never fills more of the window than hands do, insulation included', () => {
    for (const loadAmps of [10, 40, 80]) {
      const { choices } = accept('secondary', { ...core, ...room, loadVolts: 12, loadAmps }).results;
      for (const { fill, copperFill } of choices) {
        expect(fill).toBeLessThanOrEqual(0.6);
        expect(copperFill).toBeLessThan(fill);
      }
    }
  });

  it('finds no single round wire wider than the widest by area', () => {
    const { choices } = accept('secondary', {
      ...core,
      ...room,
      loadVolts: 24,
      loadAmps: 10,
      mostStrands: 1,
      kinds: ['round'],
      mostChoices: 50,
    }).results;
    expect(choices.length).toBeGreaterThan(3);
    for (const { turns, alongMm } of choices) {
      const widest = accept('widest-wire', { windowWidthMm: 20, windowHeightMm: 50, turns, fill: 0.6 }).results;
      expect(alongMm).toBeLessThanOrEqual(widest.overallDiameter.value);
    }
  });

  it('calls 3.5 A/mm² good for hours, 6 for minutes, more for bursts', () => {
    const at = (loadAmps: number) => {
      const wires = [{ kind: 'cable', areaMm2: 10, overallDiameterMm: 6 }];
      const given = { ...core, ...room, loadVolts: 6, loadAmps, wires, mostStrands: 1, maxCurrentDensity: 20 };
      return accept('secondary', given).results.choices[0]?.loadTime;
    };
    expect([35, 36, 60, 61].map(at)).toEqual(['hours', 'minutes', 'minutes', 'bursts']);
  });

  it('names minutes and bursts for what they are', () => {
    const answer = accept('secondary', { ...core, ...room, loadVolts: 12, loadAmps: 200, maxCurrentDensity: 10 });
    expect(cautionCodes(answer)).toContain('not-for-hours');
  });
});
