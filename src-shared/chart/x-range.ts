/** A stretch of the x axis. */
export interface XRange {
  readonly from: number;
  readonly to: number;
}

/** The range moved, without a change of its width, so that it lies within the whole. */
function inside({ from, to }: XRange, whole: XRange): XRange {
  const width = Math.min(to - from, whole.to - whole.from);
  const start = Math.min(Math.max(from, whole.from), whole.to - width);
  return { from: start, to: start + width };
}

/**
 * The range with its width times `factor` and `around` staying where it is, within the whole and never narrower than
 * `narrowest`.
 */
export function zoomed(range: XRange, whole: XRange, factor: number, around: number, narrowest: number): XRange {
  const width = range.to - range.from;
  const wanted = Math.min(whole.to - whole.from, Math.max(narrowest, width * factor));
  const share = width > 0 ? (Math.min(Math.max(around, range.from), range.to) - range.from) / width : 0.5;
  const from = around - share * wanted;
  return inside({ from, to: from + wanted }, whole);
}

/** The range moved by so much, as far as the whole goes. */
export const panned = ({ from, to }: XRange, whole: XRange, by: number): XRange =>
  inside({ from: from + by, to: to + by }, whole);

/** Whether a range shows all there is. */
export const isWhole = (range: XRange, whole: XRange): boolean => range.from <= whole.from && range.to >= whole.to;
