import { clockTime } from '../../part/time-words.ts';

/** The time of day of an instant on the program's clock: `14:01`. */
export const timeOfDay = (atMs: number, nowMs: number): string => clockTime(Date.now() - (nowMs - atMs));
