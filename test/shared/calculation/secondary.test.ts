import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { secondary } from '../../../src-shared/calculation/secondary/secondary.ts';
import { voltsAtLoad } from '../../../src-shared/calculation/secondary/load.ts';
import type { SecondaryChoice } from '../../../src-shared/calculation/secondary/choice.ts';
import { awgDiameterMm } from '../../../src-shared/quantity/awg.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { simulate } from '../../../src-shared/quantity/monte-carlo.ts';
import { exact } from '../../../src-shared/quantity/estimate.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

/** A scrap 230 V core of the props workshop. */
const bare = {
  primaryTurns: 236,
  primaryVolts: 230,
  windowWidthMm: 22,
  windowHeightMm: 46,
  clearanceMm: 1,
  baseMm: 1,
  marginMm: 2,
  interlayerMm: 0.1,
  spacing: 1.05,
  tongueMm: 45,
  stackMm: 70,
  loadVolts: 24,
  loadAmps: 20,
};
const measured = { primaryOhms: 1.1, primaryMetal: 'copper', leakageOhms: 2 };
const core = { ...bare, ...measured, hertz: 50 };
const plan = (more: object = {}) => accept('secondary', { ...core, ...more });
const best = (more: object = {}): SecondaryChoice => {
  const first = plan(more).results.choices[0];
  if (first === undefined) throw new Error('nothing fits');
  return first;
};

describe('secondary: turns and volts', () => {
  it('takes the whole number of turns that comes nearest under load', () => {
    const { results } = plan();
    expect(results.turnsWithoutDrop.value).toBeCloseTo((24 * 236) / 230, 9);
    expect(results.voltsPerTurn.value).toBeCloseTo(230 / 236, 9);
    for (const { loadedVolts } of results.choices) {
      expect(Math.abs(loadedVolts.value - 24)).toBeLessThan(0.51 * (230 / 236));
    }
  });

  it('falls by what other outputs draw through the primary, as the sum of phasors says', () => {
    const amps = 0.8;
    const { turns, ohms, noLoadVolts, loadedVolts } = best({ otherPrimaryAmps: amps, celsius: 20, powerFactor: 0.9 });
    const ratio = turns / 236;
    const [cosine, sine] = [0.9, -Math.sqrt(1 - 0.81)];
    // The load's volts lie along the axis; its current, and that of the others, lag behind.
    const drop = (current: number, r: number, x: number) => ({
      re: current * (cosine * r - sine * x),
      im: current * (cosine * x + sine * r),
    });
    const own = drop(20, ohms.value + 1.1 * ratio ** 2, 2 * ratio ** 2);
    const others = drop(amps, 1.1 * ratio, (2 / 2) * ratio);
    const open = Math.hypot(loadedVolts.value + own.re + others.re, own.im + others.im);
    expect(open).toBeCloseTo(noLoadVolts.value, 2);
    expect(best({ celsius: 20, powerFactor: 0.9 }).drop.value).toBeLessThan(noLoadVolts.value - loadedVolts.value);
  });

  it('adds up: no load less drop is the volts at the load', () => {
    for (const { noLoadVolts, drop, loadedVolts, turns } of plan().results.choices) {
      expect(noLoadVolts.value).toBeCloseTo((turns * 230) / 236, 9);
      expect(noLoadVolts.value - drop.value).toBeCloseTo(loadedVolts.value, 9);
    }
  });

  it('shows the line high and low', () => {
    const { noLoadVolts, highLineVolts, lowLineVolts, loadedVolts } = best({ linePercent: 6 });
    expect(highLineVolts.value).toBeCloseTo(1.06 * noLoadVolts.value, 9);
    expect(lowLineVolts.value).toBeCloseTo(loadedVolts.value - 0.06 * noLoadVolts.value, 1);
    expect(lowLineVolts.value).toBeLessThan(loadedVolts.value);
  });

  it('drops more with a lagging load and less with a leading one', () => {
    const at = (more: object) => {
      const { drop, turns } = best({ ...more, mostChoices: 1 });
      return drop.value / turns;
    };
    const resistive = at({});
    expect(at({ powerFactor: 0.7 })).toBeGreaterThan(resistive);
    expect(at({ powerFactor: 0.7, sense: 'leading' })).toBeLessThan(resistive);
  });

  it('solves the phasor diagram, and says when no current can flow', () => {
    const fed = { open: 10, amps: 2, cosine: 0.8, sine: 0.6, resistance: 0.5, reactance: 1 };
    const volts = voltsAtLoad(fed);
    const [re, im] = [volts + 2 * (0.5 * 0.8 + 1 * 0.6), 2 * (1 * 0.8 - 0.5 * 0.6)];
    expect(Math.hypot(re, im)).toBeCloseTo(10, 12);
    expect(voltsAtLoad({ ...fed, reactance: 100 })).toBeNaN();
  });

  it('warms the windings: more drop and more loss at 120 °C than at 20 °C', () => {
    const stock = { wires: [{ diameterMm: 2.5, film: 'iec-grade-2' }] };
    const [cold, hot] = [best({ ...stock, celsius: 20 }), best({ ...stock, celsius: 120 })];
    expect(hot.turns).toBe(cold.turns);
    expect(hot.ohms.value / cold.ohms.value).toBeCloseTo((234.5 + 120) / 254.5, 9);
    expect(hot.copperLoss.value).toBeGreaterThan(cold.copperLoss.value * 1.35);
  });

  it('counts lugs and joints, and says what one milliohm does to a heavy output', () => {
    const stock = { wires: [{ diameterMm: 2.5, film: 'iec-grade-2' }], mostStrands: 1 };
    const [without, with5] = [best(stock), best({ ...stock, terminationOhms: 0.005 })];
    expect(with5.turns).toBe(without.turns);
    expect(with5.copperLoss.value - without.copperLoss.value).toBeCloseTo(20 ** 2 * 0.005, 9);
    expect(without.loadedVolts.value - with5.loadedVolts.value).toBeCloseTo(20 * 0.005, 2);
    expect(cautionCodes(plan())).not.toContain('terminations');
    const heavy = plan({ loadAmps: 60 }).cautions.find(({ code }) => code === 'terminations');
    expect(heavy?.text).toContain('one milliohm in a joint is 3.6 W');
  });

  it('has the uncertainty that a simulation shows', () => {
    const stock = { wires: [{ diameterMm: 2.5, film: 'iec-grade-2' }], mostStrands: 1, leakageOhms: 0 };
    const known = { value: 236, u: 1.5 };
    const found = best({ ...stock, primaryTurns: known, primaryOhms: { value: 1.1, u: 0.1 } });
    const { turns, strands, areaMm2, meanTurn, acFactor } = found;
    const corners = meanTurn.value - 230;
    const tree = {
      primaryTurns: { ...exact(236), u: 1.5 },
      primaryOhms: { ...exact(1.1), u: 0.1 },
      corner: { ...exact((2 * Math.PI + 8) / 2), u: (8 - 2 * Math.PI) / 4 },
    };
    const { u } = simulate(
      tree,
      (each) => {
        const hot = (234.5 + 75) / 254.5;
        const turn = 230 + (corners * each.corner) / ((2 * Math.PI + 8) / 2);
        const own = ((turns * turn + 600) / 1000 / 58 / areaMm2 / strands) * hot * acFactor;
        return (
          (turns * 230) / each.primaryTurns - 20 * (own + each.primaryOhms * hot * (turns / each.primaryTurns) ** 2)
        );
      },
      seededGenerator(3),
      100_000,
    );
    expect((found.loadedVolts.u ?? NaN) / u).toBeCloseTo(1, 1);
    expect(Math.abs((found.loadedVolts.u ?? NaN) / u - 1)).toBeLessThan(0.02);
  });
});

describe('secondary: wires', () => {
  it('agrees with window-fit on every choice', () => {
    for (const choice of plan().results.choices) {
      const size =
        choice.kind === 'strip'
          ? { stripWidthMm: choice.alongMm, stripThicknessMm: choice.outMm }
          : { overallDiameterMm: choice.alongMm };
      const { windowWidthMm, windowHeightMm, clearanceMm, baseMm, marginMm, interlayerMm, spacing } = core;
      const room = { windowWidthMm, windowHeightMm, clearanceMm, baseMm, marginMm, interlayerMm, spacing };
      const { strands, strandsDeep, turns } = choice;
      const laid = { ...room, ...size, strands, strandsDeep, turns, tongueMm: 45, stackMm: 70 };
      const { results } = accept('window-fit', laid);
      expect(results.fits).toBe(true);
      expect([results.layers, results.turnsPerLayer]).toEqual([choice.layers, choice.turnsPerLayer]);
      expect(results.buildHeight.value).toBeCloseTo(choice.buildMm, 9);
      expect(results.fill.value).toBeCloseTo(choice.fill, 9);
      expect(results.meanTurn?.value).toBeCloseTo(choice.meanTurn.value, 9);
    }
  });

  it('plans the same from a gauge and from its diameter in mm', () => {
    const overallDiameterMm = 1.73;
    const us = plan({ wires: [{ name: 'it', awg: 14, overallDiameterMm }] }).results;
    const metric = plan({ wires: [{ name: 'it', diameterMm: awgDiameterMm(14), overallDiameterMm }] }).results;
    const area = (Math.PI / 4) * awgDiameterMm(14) ** 2;
    const byArea = plan({ wires: [{ name: 'it', areaMm2: area, overallDiameterMm }] }).results;
    expect(metric).toEqual(us);
    expect(byArea.choices.map(({ strands, turns }) => [strands, turns])).toEqual(
      us.choices.map(({ strands, turns }) => [strands, turns]),
    );
  });

  it('plans the same from lengths in inches', () => {
    const inches = Object.fromEntries(
      Object.entries(core).map(([key, value]) => [
        key,
        key.endsWith('Mm') && typeof value === 'number' ? (value / 25.4) * 25.4 : value,
      ]),
    );
    const told = ({ results }: ReturnType<typeof plan>) =>
      results.choices.map(({ wire, strands, turns, layers }) => [wire, strands, turns, layers]);
    expect(told(accept('secondary', inches))).toEqual(told(plan()));
  });

  it('looks only at the kinds and the standard that are wanted', () => {
    const names = (more: object) => plan({ mostChoices: 50, ...more }).results.choices.map(({ wire }) => wire);
    expect(names({ standard: 'us', kinds: ['round'] }).every((name) => /^AWG \d+$/.test(name))).toBe(true);
    expect(names({ standard: 'metric', kinds: ['cable'] }).every((name) => name.endsWith('mm² cable'))).toBe(true);
    expect(names({ kinds: ['strip'] }).every((name) => name.endsWith('strip'))).toBe(true);
  });

  it('counts the extra resistance of thick strip in many layers', () => {
    const wires = [{ kind: 'strip', stripWidthMm: 8, stripThicknessMm: 3, insulationMm: 0.2 }];
    const strip = { wires, mostStrands: 1, mostFill: 0.8, windowWidthMm: 26 };
    const with50 = best(strip);
    expect(with50.acFactor).toBeGreaterThan(1.01);
    expect(best({ ...strip, hertz: 60 }).acFactor).toBeGreaterThan(with50.acFactor);
    expect(accept('secondary', { ...bare, ...measured, ...strip }).results.choices[0]?.acFactor).toBe(1);
  });

  it('never ranks a choice behind one that is better in everything', () => {
    const need = fc.record({
      loadVolts: fc.double({ min: 3, max: 48, noNaN: true }),
      loadAmps: fc.double({ min: 1, max: 60, noNaN: true }),
      windowWidthMm: fc.double({ min: 8, max: 40, noNaN: true }),
    });
    fc.assert(
      fc.property(need, (given) => {
        const { choices } = plan({ ...given, mostChoices: 50 }).results;
        const merits = (choice: SecondaryChoice) => [
          choice.copperLoss.value,
          choice.strands,
          choice.strandsDeep,
          choice.layers,
          choice.buildMm,
          choice.copperMass.value,
          choice.kind === 'round' ? Math.sqrt(choice.areaMm2) : choice.kind === 'strip' ? choice.outMm - 0.17 : 0,
          Math.abs(choice.loadedVolts.value - given.loadVolts),
        ];
        choices.forEach((later, at) => {
          for (const earlier of choices.slice(0, at)) {
            const [a, b] = [merits(later), merits(earlier)];
            const better =
              a.every((value, at) => value <= (b[at] ?? NaN)) && a.some((value, at) => value < (b[at] ?? NaN) - 1e-9);
            expect(better, `${later.wire} behind ${earlier.wire}`).toBe(false);
          }
        });
      }),
      { seed: 5, numRuns: 40 },
    );
  });

  it('gives its reason for the order, in watts', () => {
    const reasons = plan().results.choices.map(({ reason }) => reason);
    expect(reasons[0]).toMatch(/^Loses [\d.]+ W/);
    expect(new Set(reasons).size).toBe(reasons.length);
  });

  it('keeps within what it was told', () => {
    const { choices } = plan({ maxCurrentDensity: 3, mostFill: 0.45, mostStrands: 2, mostChoices: 50 }).results;
    expect(choices.length).toBeGreaterThan(3);
    for (const { currentDensity, fill, strands, spareMm } of choices) {
      expect(currentDensity.value).toBeLessThanOrEqual(3);
      expect(fill).toBeLessThanOrEqual(0.45);
      expect(strands).toBeLessThanOrEqual(2);
      expect(spareMm).toBeGreaterThanOrEqual(-1e-9);
    }
  });
});

describe('secondary: what is nonsense or not known', () => {
  it('says what would have to give when there is more copper than window', () => {
    const { results, cautions } = plan({ loadAmps: 150 });
    expect(results.choices).toEqual([]);
    expect(cautions.map(({ code }) => code)).toContain('none-fits');
    const [density, amps] = ['current-density', 'amps'].map((what) =>
      results.why?.gives.find((give) => give.what === what),
    );
    expect(density?.needed).toBeGreaterThan(5);
    expect(plan({ loadAmps: 150, maxCurrentDensity: (density?.needed ?? 0) * 1.0001 }).results.fitting).toBeGreaterThan(
      0,
    );
    expect(amps?.needed).toBeLessThan(150);
    expect(plan({ loadAmps: (amps?.needed ?? 0) * 0.97 }).results.fitting).toBeGreaterThan(0);
  });

  it('names the width of window that would do', () => {
    const { why } = plan({ loadAmps: 120 }).results;
    const width = why?.gives.find(({ what }) => what === 'free-width');
    expect(width?.given).toBe(22);
    expect(plan({ loadAmps: 120, windowWidthMm: (width?.needed ?? 0) * 1.0001 }).results.fitting).toBeGreaterThan(0);
  });

  it('says so when no wire lies between the margins, or the drop eats every turn', () => {
    const wide = plan({ wires: [{ diameterMm: 30, overallDiameterMm: 44 }] }).results.why;
    expect(wide?.text).toContain('No turn lies between the margins');
    const heavy = plan({ primaryOhms: 500 }).results.why;
    expect(heavy?.text).toContain('The drop eats every turn');
  });

  it('refuses a flux above its ceiling, with the turns that would keep it', () => {
    const refused = refusal('secondary', { ...core, primaryTurns: 150 });
    expect(refused).toMatchObject({ code: 'outside-validity', path: 'primaryTurns' });
    const turns = Number(/wants (\d+) primary turns/.exec(refused.message)?.[1]);
    expect(plan({ primaryTurns: turns }).results.peakFluxDensity?.value).toBeLessThanOrEqual(1.6);
    expect(refusal('secondary', { ...core, primaryTurns: turns - 1 }).path).toBe('primaryTurns');
    expect(cautionCodes(plan({ primaryTurns: turns }))).toContain('flux-high-for-long-runs');
    expect(plan({ primaryTurns: 150, mostTesla: 2.2, stackMm: 80 }).results.peakFluxDensity?.value).toBeGreaterThan(
      1.9,
    );
  });

  it('refuses an output over 50 V until it is confirmed, and cautions then', () => {
    expect(refusal('secondary', { ...core, loadVolts: 60 })).toMatchObject({ path: 'loadVolts' });
    expect(cautionCodes(plan({ loadVolts: 60, loadAmps: 5, over50Confirmed: true }))).toContain('c-out50');
    // 49 V under load stand above 50 V without it.
    expect(cautionCodes(plan({ loadVolts: 49.5, loadAmps: 10 }))).toContain('c-out50');
    expect(cautionCodes(plan())).not.toContain('c-out50');
  });

  it('refuses an absurd current density and cautions on a high one', () => {
    expect(refusal('secondary', { ...core, maxCurrentDensity: 200 })).toMatchObject({ code: 'too-large' });
    const hot = plan({ maxCurrentDensity: 12, loadAmps: 150 });
    expect(cautionCodes(hot)).toEqual(expect.arrayContaining(['density-very-high', 'not-for-hours']));
  });

  it('does not claim a drop that nobody measured', () => {
    const answer = accept('secondary', bare);
    expect(cautionCodes(answer)).toEqual(
      expect.arrayContaining(['primary-ohms-not-known', 'leakage-not-known', 'hertz-not-known']),
    );
    expect(answer.results.choices[0]?.loadedVolts.u).toBeNull();
    expect(answer.results.choices[0]?.noLoadVolts.u).toBe(0);
    expect(answer.results.peakFluxDensity).toBeNull();
  });

  it('says when the primary is the one that gets hot', () => {
    const { results, cautions } = plan({ primaryBareDiameterMm: 0.6 });
    expect(results.primaryDensity?.value).toBeCloseTo(results.primaryAmps.value / ((Math.PI / 4) * 0.36), 9);
    expect(cautions.map(({ code }) => code)).toContain('primary-density');
  });

  it('says how coarse one turn is', () => {
    expect(cautionCodes(plan({ loadVolts: 2.4, loadAmps: 5 }))).toContain('one-turn-is-coarse');
  });

  it.each([
    [{ tongueMm: undefined, stackMm: undefined }, 'missing-key', 'tongueMm'],
    [{ stackMm: undefined }, 'missing-key', 'stackMm'],
    [{ marginMm: 23 }, 'conflict', 'marginMm'],
    [{ clearanceMm: 21 }, 'conflict', 'clearanceMm'],
    [{ wires: [{ diameterMm: 2 }] }, 'missing-key', 'wires.0.overallDiameterMm'],
    [{ wires: [{ diameterMm: 2, awg: 12, overallDiameterMm: 3 }] }, 'conflict', 'wires.0.diameterMm'],
    [{ wires: [{ diameterMm: 2, overallDiameterMm: 1.9 }] }, 'conflict', 'wires.0.overallDiameterMm'],
    [{ wires: [{ kind: 'strip', stripWidthMm: 8 }] }, 'missing-key', 'wires.0.stripThicknessMm'],
    [{ wires: [{ diameterMm: 2, overallDiameterMm: 2.1 }], kinds: ['strip'] }, 'conflict', 'kinds'],
  ])('refuses %j', (more, code, path) => {
    const given = Object.fromEntries(Object.entries({ ...core, ...more }).filter(([, value]) => value !== undefined));
    expect(refusal('secondary', given)).toMatchObject({ code, path });
  });

  it('answers its example with what it was made for', () => {
    expect(secondary.answer(secondary.example)).toMatchObject({ ok: true, results: { turns: 25, why: null } });
  });
});
