/** Thrown by a job that was called off, through everything that it has open. */
export class CalledOff extends Error {}

/** Told how much of a job is done, from 0 to 1, as often as the job likes. Throws `CalledOff` when it was called off. */
export type Progress = (share: number) => void;

const tellEveryMs = 100;

/** Passes progress on at most ten times a second, and ends the job when its flag says so. */
export function progressOf(
  flag: Int32Array<SharedArrayBuffer>,
  tell: (share: number) => void,
  nowMs: () => number,
): Progress {
  let toldMs = -Infinity;
  return (share) => {
    if (Atomics.load(flag, 0) !== 0) throw new CalledOff('Called off.');
    const now = nowMs();
    if (now - toldMs < tellEveryMs) return;
    toldMs = now;
    tell(Math.min(1, Math.max(0, share)));
  };
}
