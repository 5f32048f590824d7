import { observe as atBench, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import { noFaults } from '../../../src-shared/practice/fault-effect.ts';
import { finalTemperatures, heated, type Heating } from '../../../src-shared/practice/heating.ts';
import type { PracticeWinding } from '../../../src-shared/practice/windings.ts';
import { exact, type Estimate } from '../../../src-shared/quantity/estimate.ts';
import type { Generator } from '../../../src-shared/quantity/generator.ts';
import { accept } from '../calculation/ask.ts';
import { forJson, observe, type CoverageCase } from '../calculation/coverage.ts';
import { between, pick } from '../calculation/draw.ts';

/** A winding whose leakage and resistance are usual for its turns. */
function winding(generator: Generator, id: PracticeWinding['role'], turns: number, ohms20: number): PracticeWinding {
  return {
    id,
    label: id,
    role: id,
    turns,
    metal: pick(generator, ['copper', 'aluminium']),
    ohms20,
    henries: between(generator, 0.5, 3) * 1e-8 * turns * turns,
    endOnCore: false,
  };
}

/** A scrap transformer at its own mains: driven to 1.2 to 1.75 T, a coil of a few whole turns wound on, everything open. */
function randomBench(generator: Generator): PracticeBench {
  const [volts, hertz] = pick(generator, [[230, 50] as const, [120, 60] as const]);
  const areaM2 = between(generator, 8e-4, 4e-3);
  const tesla = between(generator, 1.2, 1.75);
  const turns = Math.round(volts / (4.4429 * hertz * tesla * areaM2));
  return {
    transformer: {
      iron: {
        areaM2,
        pathM: between(generator, 4, 6) * Math.sqrt(areaM2),
        gapM: between(generator, 1e-5, 8e-5),
        linear: between(generator, 50, 150),
        saturating: between(generator, 0.5, 2.5),
        exponent: between(generator, 11, 15),
        hysteresis: between(generator, 30, 110),
        steinmetz: between(generator, 1.6, 2),
        eddy: between(generator, 0.01, 0.08),
      },
      windings: [
        winding(generator, 'primary', turns, between(generator, 0.4, 4) * (volts / 230) ** 2),
        winding(generator, 'test-coil', Math.round(between(generator, 8, 30)), 0.05),
      ],
      heating: randomHeating(generator),
      shuntFactor: 1,
      coilBeyondShunts: false,
    },
    supply: { volts, hertz, ohms: 0.02, henries: 0, lamp: null, isolated: false },
    isOn: true,
    fedWindingId: 'primary',
    added: null,
    loads: {},
    faults: noFaults,
    temperatures: { winding: 21, core: 21 },
    roomCelsius: 21,
  };
}

/** Windings close to their core: what they differ by is gone within a few minutes. */
const randomHeating = (generator: Generator): Heating => ({
  windingCapacity: between(generator, 300, 900),
  coreCapacity: between(generator, 1500, 4000),
  windingToRoom: between(generator, 0.2, 0.6),
  coreToRoom: between(generator, 0.6, 1.4),
  between: between(generator, 6, 12),
});

/** What a meter states of a reading: a gain that all its readings on the range share, and a part of its own. */
function meter(generator: Generator, id: string, most: number) {
  const [gain, own] = [between(generator, 0.2 * most, most), between(generator, 0.2 * most, 0.6 * most)];
  const shape = pick<Estimate['shape']>(generator, ['normal', 'rectangular']);
  return (value: number): Estimate => ({ ...exact(value), u: own * value, shape, shared: { id, u: gain * value } });
}

function seenAt(bench: PracticeBench) {
  const observed = atBench(bench);
  if (observed === null) throw new Error('The primary is on the bench.');
  return observed;
}

/** The primary's turns from a test coil at a low voltage, read by two meters that do not match. */
export function turnsOnPractice(generator: Generator): CoverageCase {
  const bench = randomBench(generator);
  const { windings } = bench.transformer;
  const [truth, coilTurns] = [windings[0]?.turns ?? 0, windings[1]?.turns ?? 0];
  const low = { ...bench.supply, volts: bench.supply.volts * between(generator, 0.08, 0.25), isolated: true };
  const { volts } = seenAt({ ...bench, supply: low });
  const [onPrimary, onCoil] = [meter(generator, 'bench meter', 0.006), meter(generator, 'pocket meter', 0.006)];
  const reading = {
    coilTurns,
    coilVolts: onCoil(volts['test-coil']?.rms ?? 0),
    primaryVolts: onPrimary(volts['primary']?.rms ?? 0),
  };
  const answer = accept('test-coil', forJson(observe({ readings: [reading] }, generator)));
  return { truth, interval95: intervalOf(answer.results.primaryTurns) };
}

/** The no-load current after some turns were added, predicted from a sweep without them. */
export function currentOnPractice(generator: Generator): CoverageCase {
  const bench = randomBench(generator);
  const primary = bench.transformer.windings[0];
  if (primary === undefined) throw new Error('The primary is on the bench.');
  const [onVolts, onAmps] = [meter(generator, 'volts', 0.004), meter(generator, 'amps', 0.01)];
  const points = [0.5, 0.62, 0.72, 0.8, 0.86, 0.91, 0.95, 1, 1.04].map((part) => {
    const seen = seenAt({ ...bench, supply: { ...bench.supply, volts: part * bench.supply.volts } });
    return { volts: onVolts(seen.volts['primary']?.rms ?? 0), amps: onAmps(seen.lineAmps.rms) };
  });
  const addedTurns = Math.max(1, Math.round(between(generator, 0.02, 0.15) * primary.turns));
  const ohms20 = (primary.ohms20 * addedTurns) / primary.turns;
  const after = seenAt({ ...bench, added: { turns: addedTurns, ohms20, opposed: false } });
  const { hertz } = bench.supply;
  const { predictions } = accept(
    'excitation',
    forJson(
      observe(
        {
          primaryTurns: primary.turns,
          points,
          primaryOhms: { ...exact(primary.ohms20), u: 0.01 * primary.ohms20 },
          supplyVolts: exact(after.volts['primary']?.rms ?? 0),
          addedTurns: [addedTurns],
          hertz,
        },
        generator,
      ),
    ),
  ).results;
  return { truth: after.lineAmps.rms, interval95: intervalOf(predictions[0]?.amps) };
}

/** Where the core of a heat run at no load ends, from readings over two to three and a half of its time constants. */
export function finalHeatOnPractice(generator: Generator): CoverageCase {
  const bench = randomBench(generator);
  const { heating } = bench.transformer;
  const seen = seenAt(bench);
  // Invented heats of the size that a core of this kind has, in the proportion that the simulation finds.
  const scale = between(generator, 20, 60) / Math.max(1, seen.windingHeat + seen.coreHeat);
  const watts = { winding: scale * seen.windingHeat, core: scale * seen.coreHeat };
  const slowest = (heating.windingCapacity + heating.coreCapacity) / (heating.windingToRoom + heating.coreToRoom);
  const count = Math.round(between(generator, 20, 40));
  const length = between(generator, 2, 3.5) * slowest;
  const [own, offset] = [between(generator, 0.2, 0.6), between(generator, 0, 0.5)];
  const points = Array.from({ length: count }, (_, index) => {
    const seconds = ((index + 1) * length) / count;
    const { core } = heated(heating, bench.temperatures, watts, bench.roomCelsius, seconds);
    return { seconds, celsius: { ...exact(core), u: own, shared: { id: 'probe', u: offset } } };
  });
  const { finalCelsius } = accept('heat-run', forJson(observe({ points }, generator))).results;
  return { truth: finalTemperatures(heating, watts, bench.roomCelsius).core, interval95: intervalOf(finalCelsius) };
}

function intervalOf(found: { readonly interval95: readonly [number, number] | null } | undefined) {
  if (found?.interval95 === undefined || found.interval95 === null) {
    throw new Error('No interval where every uncertainty is stated.');
  }
  return found.interval95;
}
