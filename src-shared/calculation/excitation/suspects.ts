import { standardUncertainty, type Estimate } from '../../quantity/estimate.ts';
import { takeApart } from '../../quantity/sources.ts';
import { placeOf, type Bench } from './bench.ts';
import type { ExcitationInput } from './input.ts';
import { ownDoubt, type Dot } from './knots.ts';
import type { Suspect } from './off-curve.ts';

/** Steepness of a curve near its knee: what a doubt about the volts counts for up the curve, where only a weight needs it. */
const usualSlope = 4;

/** The shared part of a reading counts only where the points do not all share it: otherwise it moves the curve as a whole. */
function doubtsAmong(readings: readonly Estimate[]): readonly number[] {
  const isCommon = new Set(readings.map(({ shared }) => shared?.id)).size === 1;
  return readings.map((reading) =>
    isCommon ? ownDoubt(reading) : (standardUncertainty(reading) ?? 0.01 * reading.value) / Math.abs(reading.value),
  );
}

/** The points of a bench that may make one curve, as they are judged. */
export function suspectsOf(given: ExcitationInput, bench: Bench, indices: readonly number[]): readonly Suspect[] {
  const { values } = takeApart(bench);
  const points = indices.flatMap((index) => {
    const [words, readings] = [given.points[index], values.points[index]];
    return words === undefined || readings === undefined ? [] : [{ index, words, readings }];
  });
  const currentDoubts = doubtsAmong(points.map(({ words }) => words.amps));
  const voltsDoubts = doubtsAmong(points.map(({ words }) => words.averageVolts ?? words.volts));
  return points.map(({ index, words, readings }, k): Suspect => {
    const { perTurn, ampereTurns } = placeOf(values, readings);
    const { amps, volts, averageVolts, turns, supplyKind, meterKind } = words;
    return {
      index,
      x: perTurn,
      y: ampereTurns,
      own: Math.hypot(ownDoubt(amps), usualSlope * ownDoubt(averageVolts ?? volts)),
      currentDoubt: Math.hypot(currentDoubts[k] ?? 0, readings.waveDoubt / Math.sqrt(3)),
      voltsDoubt: voltsDoubts[k] ?? 0,
      kin: [
        `turns ${turns?.value ?? bench.primaryTurns.value}`,
        ...(supplyKind === undefined ? [] : [`supply ${supplyKind}`]),
        ...(meterKind === undefined ? [] : [`meter ${meterKind}`]),
      ],
      isSoft: supplyKind === 'mains-through-lamp' && averageVolts === undefined,
      isPrimary: turns === undefined || turns.value === bench.primaryTurns.value,
    };
  });
}

/** Points with watts, as they lie on the curve of core loss. */
export function lossDots(given: ExcitationInput, bench: Bench, indices: readonly number[]): readonly Dot[] {
  const { values } = takeApart(bench);
  return indices.flatMap((index): Dot[] => {
    const [words, readings] = [given.points[index], values.points[index]];
    if (words?.watts === undefined || readings === undefined) return [];
    const { perTurn, coreWatts } = placeOf(values, readings);
    return coreWatts === null ? [] : [{ index, x: perTurn, y: coreWatts, own: ownDoubt(words.watts) }];
  });
}
