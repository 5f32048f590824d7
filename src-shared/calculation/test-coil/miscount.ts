import { studentTQuantile } from '../../quantity/student-t.ts';
import { distanceFrom, type Observation } from './observation.ts';

/** A coil that would fit if its turns had been counted wrong. */
export interface Candidate {
  /** Indices of the readings taken with it. */
  readonly readings: readonly number[];
  readonly coilTurns: number;
  /** The turns it would have to have. */
  readonly turnsThatFit: number;
  /** Those turns are a whole number, as far as the readings can tell. */
  readonly isWhole: boolean;
}

/** Chance of calling readings unlike that are not. */
const falseAlarm = 0.01;
/** Without stated uncertainties: a coil is off when it is off by more than this part of a turn. */
const turnsOffUnstated = 0.25;

/** A distance, judged: how many standard uncertainties it is, and whether that is more than chance explains. */
interface Judged {
  /** Null when there is no uncertainty to measure it by. */
  readonly inU: number | null;
  readonly isOff: boolean;
  /** How far it could be by chance, relative. */
  readonly tolerance: number;
  /** The logarithm of the ratio itself. */
  readonly log: number;
}

/** Judges one observation against others; `looks` is how many such judgements are made together. */
export function judge(one: Observation, others: readonly Observation[], looks: number): Judged {
  const { value: log, u, dof } = distanceFrom(one, others);
  if (u === null || u === 0) {
    const tolerance = turnsOffUnstated / one.coilTurns;
    return { inU: Math.abs(log) < 1e-9 ? 0 : null, isOff: Math.abs(log) > tolerance, tolerance, log };
  }
  const tolerance = u * studentTQuantile(1 - falseAlarm / 2 / looks, dof);
  return { inU: Math.abs(log) / u, isOff: Math.abs(log) > tolerance, tolerance, log };
}

/** Whether every one of some observations agrees with the mean of them. */
export const agree = (observations: readonly Observation[]): boolean =>
  observations.length < 2 || !observations.some((each) => judge(each, observations, observations.length).isOff);

/**
 * The coils that could be the wrong one where observations disagree: without it the rest agree. A coil is one
 * observation, or all of the same count together, since readings of one coil share its miscount.
 */
export function candidates(observations: readonly Observation[]): Candidate[] {
  return suspects(observations).flatMap((suspected) => {
    const rest = observations.filter((each) => !suspected.includes(each));
    const first = suspected[0];
    if (first === undefined || rest.length === 0 || !agree(rest) || !agree(suspected)) return [];
    const { log, tolerance } = judge(first, rest, observations.length);
    // The coil's indicated turns are too many by the ratio it lies above the rest, or too few by that below.
    const turnsThatFit = first.coilTurns * Math.exp(-log);
    const whole = Math.round(turnsThatFit);
    const isWhole =
      whole >= 1 && whole !== first.coilTurns && Math.abs(turnsThatFit - whole) <= tolerance * turnsThatFit;
    const readings = suspected.flatMap((each) => [...each.readings]);
    return [{ readings, coilTurns: first.coilTurns, turnsThatFit, isWhole }];
  });
}

function suspects(observations: readonly Observation[]): (readonly Observation[])[] {
  const alone = observations.map((each) => [each]);
  const byCoil = Map.groupBy(observations, ({ coilTurns }) => coilTurns);
  return [...alone, ...[...byCoil.values()].filter((together) => together.length > 1)];
}

/** The one coil that explains a disagreement: preferably by a whole number of turns; null when none or several do. */
export function theOne(found: readonly Candidate[]): Candidate | null {
  const whole = found.filter(({ isWhole }) => isWhole);
  const likely = whole.length > 0 ? whole : found.filter(({ readings }) => readings.length <= 2);
  return likely.length === 1 ? (likely[0] ?? null) : null;
}
