import type { Estimate } from '../../quantity/estimate.ts';
import { takeApart } from '../../quantity/sources.ts';
import { refuse, type Refusal } from '../answer.ts';
import { coreWattsOf, inducedSquare, ohmsAt, turnsOf, type Bench } from './bench.ts';
import type { ExcitationInput } from './input.ts';

/** Frequencies that differ by less are one frequency. */
const sameHertz = 0.005;
/** Of (E / V)²: a winding that takes more than half of its volts for itself is no transformer's. */
const leastInduced = 0.25;

/** The frequency to predict at: as said, else the one that the points agree on; undefined where nobody said any. */
export function hertzOf({ hertz, points }: ExcitationInput): { readonly hertz: Estimate | undefined } | Refusal {
  if (hertz !== undefined) return { hertz };
  const stated = points
    .flatMap((point) => (point.hertz === undefined ? [] : [point.hertz]))
    .toSorted((a, b) => a.value - b.value);
  const [lowest, highest] = [stated[0], stated.at(-1)];
  if (lowest === undefined || highest === undefined) return { hertz: undefined };
  if (highest.value > lowest.value * (1 + sameHertz)) {
    return refuse(
      'missing-key',
      'The points were taken at different frequencies: say which one to predict at.',
      'hertz',
    );
  }
  return { hertz: lowest };
}

/** The points of the one core state that the curve is for; the others are another curve. */
export function pointsOfState({
  points,
  coreState,
}: ExcitationInput): { readonly indices: readonly number[] } | Refusal {
  const indices = points.map((_, index) => index);
  const stated = new Set(points.flatMap((point) => (point.coreState === undefined ? [] : [point.coreState])));
  if (coreState !== undefined && !stated.has(coreState)) {
    return refuse('conflict', 'No point was taken in that state of the core.', 'coreState');
  }
  // A single state is that of the points that say nothing, too.
  if (stated.size <= 1) return { indices };
  const byState = Map.groupBy(indices, (index) => points[index]?.coreState);
  if (coreState !== undefined) return { indices: byState.get(coreState) ?? [] };
  const [most, next] = [...byState.values()].toSorted((a, b) => b.length - a.length);
  if (most === undefined || most.length === next?.length) {
    return refuse(
      'missing-key',
      'The points belong to several states of the core: say which one to predict for.',
      'coreState',
    );
  }
  return { indices: most };
}

/** What cannot be, in the points and in what is asked of them. */
export function impossible(given: ExcitationInput, bench: Bench): Refusal | null {
  const { values } = takeApart(bench);
  if (given.ohmsPerAddedTurn !== undefined && given.primaryOhms === undefined) {
    return refuse('missing-key', 'The resistance of an added turn needs that of the primary.', 'primaryOhms');
  }
  for (const [index, point] of values.points.entries()) {
    const path = `points.${index}`;
    if (!(ohmsAt(values, turnsOf(values, point)) >= 0)) {
      return refuse('conflict', 'So many turns fewer would leave a resistance below 0.', 'ohmsPerAddedTurn');
    }
    if (point.watts !== undefined && !(point.watts < point.volts * point.amps)) {
      return refuse(
        'conflict',
        'The watts must be less than volts × amps: nothing would be left to magnetise.',
        `${path}.watts`,
      );
    }
    if (!(coreWattsOf(values, point) > 0)) {
      return refuse('conflict', 'The copper loss alone would be more than the watts read.', `${path}.watts`);
    }
    if (!(inducedSquare(values, point) >= leastInduced)) {
      return refuse(
        'conflict',
        'The resistance of the winding would take more than half of the volts.',
        `${path}.amps`,
      );
    }
  }
  for (const [index, added] of given.addedTurns.entries()) {
    const turns = values.primaryTurns + added;
    if (!(turns >= 1)) return refuse('too-small', 'That would leave less than one turn.', `addedTurns.${index}`);
    if (!(ohmsAt(values, turns) >= 0)) {
      return refuse('conflict', 'So many turns fewer would leave a resistance below 0.', 'ohmsPerAddedTurn');
    }
  }
  if (given.limits?.watts !== undefined && given.points.every(({ watts }) => watts === undefined)) {
    return refuse('missing-key', 'A limit on watts needs points with watts.', 'points.0.watts');
  }
  if (given.limits?.tesla !== undefined && bench.ironAreaMm2 === undefined) {
    return refuse('missing-key', 'A limit on flux density needs the net iron area.', 'ironAreaMm2');
  }
  if (given.limits?.tesla !== undefined && bench.hertz === undefined) {
    return refuse('missing-key', 'A limit on flux density needs the frequency.', 'hertz');
  }
  return null;
}
