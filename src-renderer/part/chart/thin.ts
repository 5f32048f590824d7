/** Columns of a curve: equal lengths, times ascending, null for a gap. */
export interface Curve {
  readonly atMs: readonly number[];
  readonly value: readonly (number | null)[];
}

/**
 * The curve with few points a pixel column: first, lowest, highest and last of each, in the order of time, so that a
 * spike of one reading is never lost; and one more where there is a gap, which stays one.
 * @param fromMs - left edge
 * @param toMs - right edge; readings outside are dropped
 */
export function thin({ atMs, value }: Curve, fromMs: number, toMs: number, pixels: number): Curve {
  const out: { atMs: number[]; value: (number | null)[] } = { atMs: [], value: [] };
  const perPixel = (toMs - fromMs) / Math.max(1, pixels);
  let start = 0;
  while (start < atMs.length) {
    const column = Math.floor(((atMs[start] ?? 0) - fromMs) / perPixel);
    let end = start + 1;
    while (end < atMs.length && Math.floor(((atMs[end] ?? 0) - fromMs) / perPixel) === column) end++;
    const isInside = (atMs[start] ?? 0) >= fromMs && (atMs[start] ?? 0) <= toMs;
    if (isInside) for (const index of telling(value, start, end)) push(out, atMs[index], value[index]);
    start = end;
  }
  return out;
}

function push(
  out: { atMs: number[]; value: (number | null)[] },
  at: number | undefined,
  value: number | null | undefined,
) {
  out.atMs.push(at ?? 0);
  out.value.push(value ?? null);
}

/** Indices of first, lowest, highest, last and one gap of a stretch, ascending, none twice. */
function telling(value: readonly (number | null)[], start: number, end: number): readonly number[] {
  if (end - start <= 4) return Array.from({ length: end - start }, (_, step) => start + step);
  let lowest = -1;
  let highest = -1;
  let gap = -1;
  for (let index = start; index < end; index++) {
    const one = value[index] ?? null;
    if (one === null) {
      gap = index;
      continue;
    }
    if (lowest < 0 || one < (value[lowest] ?? Infinity)) lowest = index;
    if (highest < 0 || one > (value[highest] ?? -Infinity)) highest = index;
  }
  const chosen = [start, lowest, highest, gap, end - 1].filter((index) => index >= 0);
  return [...new Set(chosen)].sort((a, b) => a - b);
}
