import type { Answer } from '../calculation/answer.ts';
import { calculate } from '../calculation/calculate.ts';
import type { ResultsOf } from '../calculation/table.ts';
import type { Joint } from './unit.ts';
import type { Way } from './way.ts';

/** What the units come to together; null while something that the calculation needs is not known. */
export function bankOf(way: Way, { units, loadAmps }: Joint): Answer<ResultsOf['bank']> | null {
  if (way === 'double-stack') return null;
  const given = units.flatMap(({ openVolts, ohms, reactance, ratedAmps }) =>
    openVolts === null || ohms === null || ratedAmps === null
      ? []
      : [{ openVolts, ohms, ratedAmps, ...(reactance === null ? {} : { reactance }) }],
  );
  if (given.length < units.length) return null;
  return calculate('bank', {
    units: given,
    join: way === 'parallel' ? 'parallel' : 'series',
    ...(loadAmps === null ? {} : { loadAmps }),
  });
}

/** Two cores as one; null while turns or window are not known. */
export function stackOf({
  units,
  supplyVolts,
  stackSupply,
  stackCore,
}: Joint): Answer<ResultsOf['double-stack']> | null {
  const [first, second] = units;
  if (stackCore === null || first === undefined || second === undefined) return null;
  if (first.primaryTurns === null || second.primaryTurns === null) return null;
  return calculate('double-stack', {
    ...stackCore,
    coreVolts: stackSupply === 'same' ? supplyVolts : supplyVolts / 2,
    firstTurns: first.primaryTurns,
    secondTurns: second.primaryTurns,
    ...(first.primaryOhms === null || second.primaryOhms === null
      ? {}
      : { firstOhms: first.primaryOhms, secondOhms: second.primaryOhms }),
    supply: stackSupply,
  });
}

/** What may stand across the last link of a parallel for closing it, of a unit's volts. Common practice, no source. */
export const closingPart = 0.01;

/** Why these must not be joined like this, in a sentence; null where nothing speaks against it. */
export function refusedJoint(way: Way, joint: Joint): string | null {
  if (way === 'parallel') {
    const volts = joint.units.flatMap(({ openVolts }) => openVolts?.value ?? []);
    if (volts.length < 2) return null;
    const [lowest, highest] = [Math.min(...volts), Math.max(...volts)];
    if (highest - lowest < closingPart * lowest) return null;
    const apart = (100 * (highest - lowest)) / lowest;
    return `Unlike volts: ${lowest.toPrecision(4)} and ${highest.toPrecision(4)} V are ${apart.toPrecision(2)} % apart. In parallel that drives a current round them with no load at all: not over 1 %. Take turns off the higher one, or join them in series.`;
  }
  if (way !== 'double-stack' || joint.stackSupply !== 'same') return null;
  const answer = stackOf(joint);
  return answer?.ok === true && answer.results.primaryJoin === 'not-proved'
    ? 'The turns of the two primaries are not proved equal: not in parallel. Find both counts to within a fraction of a turn, or use them in series on twice the volts.'
    : null;
}
