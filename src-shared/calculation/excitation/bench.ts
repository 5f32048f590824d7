import { exact, rectangular, standardUncertainty, type Estimate } from '../../quantity/estimate.ts';
import type { Values } from '../../quantity/sources.ts';
import type { ExcitationInput, ExcitationPoint } from './input.ts';

/**
 * Power factor of what the iron takes, where no watts were read: the primary's own drop depends on it. Common practice, no
 * source: a no-load current is mostly magnetising.
 */
const unreadPowerFactor = rectangular(0.3, 0.3);
/** Core loss goes with the frequency at constant flux: hysteresis with the first power, eddy currents with the second. */
const lossExponent = rectangular(1.5, 0.5);

/**
 * Where r.m.s. and average-responding volts differ, the wave is no sine, and the current at the same flux is another one:
 * by up to twice as large a part (own simulation). What the two meters' own doubt explains of the difference is taken off.
 */
const currentPerWave = 2;
const chance = 2;

function waveDoubt({ volts, averageVolts }: ExcitationPoint): number {
  if (averageVolts === undefined) return 0;
  const relative = (each: Estimate) => (standardUncertainty(each) ?? 0) / each.value;
  const difference = Math.abs(volts.value / averageVolts.value - 1);
  return currentPerWave * Math.max(0, difference - chance * Math.hypot(relative(volts), relative(averageVolts)));
}

/** The readings of a point, without the words about it. */
const readingsOf = (point: ExcitationPoint) => {
  const { volts, amps, watts, turns, averageVolts, hertz } = point;
  return {
    volts,
    amps,
    ...(watts === undefined ? {} : { watts }),
    ...(turns === undefined ? {} : { turns }),
    ...(averageVolts === undefined ? {} : { averageVolts }),
    ...(hertz === undefined ? {} : { hertz }),
    waveDoubt: waveDoubt(point),
  };
};

/** All that the curve and what stands on it are made of, as one tree of estimates. */
export function benchOf(given: ExcitationInput, hertz: Estimate | undefined) {
  const { primaryTurns, points, primaryOhms, ohmsPerAddedTurn, supplyVolts, ironAreaMm2 } = given;
  return {
    points: points.map(readingsOf),
    primaryTurns,
    supplyVolts,
    ...(primaryOhms === undefined ? {} : { primaryOhms }),
    ...(ohmsPerAddedTurn === undefined ? {} : { ohmsPerAddedTurn }),
    ...(hertz === undefined ? {} : { hertz }),
    ...(ironAreaMm2 === undefined ? {} : { ironAreaMm2 }),
    unreadPowerFactor: primaryOhms === undefined ? exact(unreadPowerFactor.value) : unreadPowerFactor,
    lossExponent,
    /** The same way for all points: their waves are distorted alike. */
    wave: rectangular(0, 1),
  };
}
export type Bench = ReturnType<typeof benchOf>;
export type BenchValues = Values<Bench>;
export type Readings = BenchValues['points'][number];

/** A point of the curve: logarithms of induced volts per turn, ampere-turns, and the watts of the core where they were read. */
export interface Place {
  readonly perTurn: number;
  readonly ampereTurns: number;
  readonly coreWatts: number | null;
}

/** Resistance of so many turns: `primaryOhms` and what the turns beside the primary's add; 0 where it is not known. */
export function ohmsAt({ primaryTurns, primaryOhms, ohmsPerAddedTurn }: BenchValues, turns: number): number {
  if (primaryOhms === undefined) return 0;
  return primaryOhms + (turns - primaryTurns) * (ohmsPerAddedTurn ?? primaryOhms / primaryTurns);
}

export const turnsOf = ({ primaryTurns }: BenchValues, { turns }: Readings): number => turns ?? primaryTurns;

/** What the iron takes of a point's watts; without watts, by an assumed power factor. */
export function coreWattsOf(bench: BenchValues, point: Readings): number {
  const { volts, amps, watts } = point;
  if (watts === undefined) return bench.unreadPowerFactor * volts * amps;
  return watts - amps ** 2 * ohmsAt(bench, turnsOf(bench, point));
}

/**
 * (E / V)² of a point: with e = v − R i at every instant, E² = V² − 2 R P + (R I)², whatever the wave; P is the core's watts
 * and I² R.
 */
export function inducedSquare(bench: BenchValues, point: Readings): number {
  const { volts, amps } = point;
  const ohms = ohmsAt(bench, turnsOf(bench, point));
  return 1 - (2 * ohms * coreWattsOf(bench, point) + (amps * ohms) ** 2) / volts ** 2;
}

/**
 * Where a point lies on the curve at the frequency of the prediction. Flux follows the mean of the induced volts over the
 * frequency, so the average-responding reading counts where there is one, and volts scale with the frequency.
 */
export function placeOf(bench: BenchValues, point: Readings): Place {
  const { volts, averageVolts, hertz } = point;
  const turns = turnsOf(bench, point);
  const faster = hertz === undefined || bench.hertz === undefined ? 1 : bench.hertz / hertz;
  const induced = (averageVolts ?? volts) * Math.sqrt(inducedSquare(bench, point)) * faster;
  const core = coreWattsOf(bench, point);
  // In phase with the volts per turn, the loss takes Pfe / v of the ampere-turns; at another frequency, at equal flux, it
  // takes more or less by the power of the frequency that the loss goes with, less the one that the volts go with.
  const inPhase = (core * faster * turns) / induced;
  const more = inPhase ** 2 * (faster ** (2 * bench.lossExponent - 2) - 1);
  return {
    perTurn: Math.log(induced / turns),
    ampereTurns: Math.log(Math.sqrt((point.amps * turns) ** 2 + more)) + bench.wave * point.waveDoubt,
    coreWatts: point.watts === undefined ? null : Math.log(core * faster ** bench.lossExponent),
  };
}
