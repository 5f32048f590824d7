import { clockTime, shortDate } from '../../part/time-words.ts';

/** The time of day of an instant on the program's clock: `14:01`. */
export const timeOfDay = (atMs: number, nowMs: number): string => clockTime(Date.now() - (nowMs - atMs));

/** The same for an instant ahead, with its day where that is not today: `01:51, 26 Nov`. */
export function timeAhead(atMs: number, nowMs: number): string {
  const [now, wall] = [Date.now(), Date.now() + (atMs - nowMs)];
  return shortDate(now) === shortDate(wall) ? clockTime(wall) : `${clockTime(wall)}, ${shortDate(wall)}`;
}
