import type { Run } from './run.ts';

/** As much of a run as its time is told by. */
export type TimedRun = Pick<Run, 'startedMonoMs' | 'timeFactor'>;

/** How many times faster than the clock the time of a run goes: 1, but where a practised run's time is simulated. */
export const timeFactorOf = ({ timeFactor }: Pick<Run, 'timeFactor'>): number => timeFactor ?? 1;

/** An instant of the program's clock as time of the run, in ms since its start; simulated where the run's time is. */
export const sinceStartMs = (run: TimedRun, monoMs: number): number => (monoMs - run.startedMonoMs) * timeFactorOf(run);

/** The instant of the program's clock at which so much of the run's time had passed, in ms. */
export const clockAtMs = (run: TimedRun, atMs: number): number => run.startedMonoMs + atMs / timeFactorOf(run);

/** `simulated time, 60 times faster than the clock`; null for time as it is. */
export function simulatedTimeWords(run: Pick<Run, 'timeFactor'>): string | null {
  const factor = timeFactorOf(run);
  return factor === 1 ? null : `simulated time, ${factor} times faster than the clock`;
}
