import { exact, type Estimate } from '../../../src-shared/quantity/estimate.ts';
import type { Generator } from '../../../src-shared/quantity/generator.ts';
import { accept } from './ask.ts';
import { forJson, observe, type CoverageCase } from './coverage.ts';
import { between, pick } from './draw.ts';

/** Iron whose curve is known: ampere-turns and watts at so many volts per turn. */
interface Iron {
  readonly ampereTurns: (e: number) => number;
  readonly watts: (e: number) => number;
}

/** The terminal volts and amps of a winding whose turns have `e` volts each: V² = E² + 2 R P + (R I)². */
function terminals({ ampereTurns, watts }: Iron, turns: number, ohms: number, e: number) {
  const amps = ampereTurns(e) / turns;
  const core = watts(e);
  const volts = Math.sqrt((e * turns) ** 2 + 2 * ohms * core + (amps * ohms) ** 2);
  return { volts, amps, watts: core + amps ** 2 * ohms };
}

/** The same for given terminal volts, by halving. */
function onVolts(iron: Iron, turns: number, ohms: number, volts: number) {
  let [low, high] = [0, volts / turns];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (terminals(iron, turns, ohms, middle).volts < volts) low = middle;
    else high = middle;
  }
  return terminals(iron, turns, ohms, (low + high) / 2);
}

/** The volts where 10 % more draw 50 % more current, on a curve that ever steepens, by halving. */
function kneeOf(iron: Iron, turns: number, ohms: number, nominal: number): number {
  const amps = (volts: number) => onVolts(iron, turns, ohms, volts).amps;
  let [low, high] = [0.2 * nominal, 2 * nominal];
  for (let step = 0; step < 50; step += 1) {
    const middle = (low + high) / 2;
    if (amps(1.1 * middle) < 1.5 * amps(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** What a meter states of a reading: a gain that all its readings share, and a part of its own. */
function meter(generator: Generator, id: string, most: number) {
  const [gain, own] = [between(generator, 0, most), between(generator, 0.2 * most, most)];
  const shape = pick<Estimate['shape']>(generator, ['normal', 'rectangular', 'triangular']);
  return (value: number): Estimate => ({
    ...exact(value),
    u: own * value,
    shape,
    shared: { id, u: gain * value },
  });
}

/** A core, a sweep with and without extra turns, and what is asked of it; which quantity is looked at is drawn too. */
export function excitationBench(generator: Generator): CoverageCase {
  const primaryTurns = Math.round(between(generator, 100, 400));
  const supplyVolts = pick(generator, [120, 230]);
  const nominal = supplyVolts / primaryTurns;
  const [bend, power] = [between(generator, 0.85, 1.15), between(generator, 5, 11)];
  const [flat, steep] = [between(generator, 20, 90), between(generator, 40, 120)];
  const ampereTurns = (e: number) => flat * (e / nominal) + steep * (e / nominal / bend) ** power;
  const hasWatts = generator.uniform() < 0.7;
  const [powerFactor, lossPart] = [between(generator, 0, 0.6), between(generator, 0.2, 0.6)];
  const lossPower = between(generator, 1.7, 2.3);
  const watts = (e: number) =>
    hasWatts ? lossPart * flat * nominal * (e / nominal) ** lossPower : powerFactor * e * ampereTurns(e);
  const iron = { ampereTurns, watts };
  const amps = ampereTurns(nominal) / primaryTurns;
  const top = 1.15 * nominal;
  // A winding that takes a share of the volts, but at the highest point no more watts than the core.
  const mostOhms = watts(top) / (ampereTurns(top) / primaryTurns) ** 2;
  const ohms = Math.min(between(generator, 0.002, 0.03) * (supplyVolts / amps), mostOhms);
  const ohmsAt = (turns: number) => (ohms * turns) / primaryTurns;
  const [onMeterV, onMeterA, onMeterW] = [
    meter(generator, 'volts', 0.005),
    meter(generator, 'amps', 0.01),
    meter(generator, 'watts', 0.02),
  ];
  const count = Math.round(between(generator, 7, 12));
  const extra = generator.uniform() < 0.5 ? Math.round(0.1 * primaryTurns) : 0;
  const points = Array.from({ length: count }, (_, k) => {
    const turns = primaryTurns + (k % 3 === 2 ? extra : 0);
    const perTurn = nominal * (0.55 + (0.6 * k) / (count - 1) + between(generator, -0.01, 0.01));
    const seen = onVolts(iron, turns, ohmsAt(turns), perTurn * turns);
    return {
      volts: onMeterV(seen.volts),
      amps: onMeterA(seen.amps),
      ...(hasWatts ? { watts: onMeterW(seen.watts) } : {}),
      ...(turns === primaryTurns ? {} : { turns }),
    };
  });
  const addedTurns = Math.round(between(generator, 0, 0.25) * primaryTurns);
  const truths = {
    primaryTurns,
    points,
    primaryOhms: { ...exact(ohms), u: 0.01 * ohms },
    supplyVolts: { ...exact(supplyVolts), u: 0.003 * supplyVolts },
    addedTurns: [addedTurns],
    hertz: pick(generator, [50, 60]),
  };
  const observed = forJson(observe(truths, generator));
  const { predictions, knee } = accept('excitation', observed).results;
  const turns = primaryTurns + addedTurns;
  const truth = onVolts(iron, turns, ohmsAt(turns), supplyVolts);
  const what = pick(generator, ['amps', hasWatts ? 'watts' : 'amps', knee === undefined ? 'amps' : 'knee'] as const);
  const interval95 = (what === 'knee' ? knee : predictions[0]?.[what])?.interval95;
  if (interval95 === undefined || interval95 === null) throw new Error(`No interval for ${what}.`);
  return { truth: what === 'knee' ? kneeOf(iron, primaryTurns, ohms, supplyVolts) : truth[what], interval95 };
}
