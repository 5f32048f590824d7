import * as v from 'valibot';
import { amount, count, line, ofObject } from './field.ts';

/**
 * A stated correction of one range, found by a check against something known: readings on it are multiplied by the
 * factor, and the check's own uncertainty stands in the place of the sheet's per cent.
 */
export const Correction = v.strictObject(
  {
    /** Index of the range in the description. */
    rangeIndex: count('Range of the correction', 0, 59),
    factor: amount('Factor of the correction', 0.8, 1.25),
    /** Standard uncertainty of the factor, in per cent of it. */
    percent: amount('Per cent of the correction', 0, 25, '%'),
    /** When the check was made, by the wall clock. */
    wallMs: amount('Time of the check', 0, 1e14),
    against: line('What it was checked against', 120),
  },
  ofObject('Correction'),
);
export type Correction = v.InferOutput<typeof Correction>;

export const Corrections = v.pipe(
  v.array(Correction, 'Corrections must be a list.'),
  v.check(
    (list) => new Set(list.map(({ rangeIndex }) => rangeIndex)).size === list.length,
    'Corrections: one for each range.',
  ),
);
