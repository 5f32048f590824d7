/** Away for so long, something may have been changed: common practice, no source. */
const awayMs = 60_000;

/** When the bench was last left for another place, on the program's clock; null before. */
let leftAtMs: number | null = null;

/** The bench is left for another place. */
export function leaveBench(nowMs: number): void {
  leftAtMs = nowMs;
}

/** Whether somebody comes back who was away long enough to have changed something. */
export const isBackAtBench = (nowMs: number): boolean => leftAtMs !== null && nowMs - leftAtMs >= awayMs;
