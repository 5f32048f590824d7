/** Index of the last of ascending numbers that is not above `x`; -1 when all are. */
export function lastAtOrBelow(ascending: ArrayLike<number>, x: number): number {
  let [low, high] = [0, ascending.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((ascending[middle] ?? Infinity) <= x) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** The value of a curve nearest to `x` that is a number, with its place; null when there is none within `reach`. */
export function nearestPoint(
  { x, y }: { readonly x: readonly number[]; readonly y: readonly (number | null)[] },
  at: number,
  reach: number,
): { readonly x: number; readonly y: number } | null {
  const from = lastAtOrBelow(x, at);
  let best: { x: number; y: number } | null = null;
  for (const step of [-1, 1]) {
    for (let index = step < 0 ? from : from + 1; index >= 0 && index < x.length; index += step) {
      const [here = NaN, value = null] = [x[index], y[index]];
      if (!(Math.abs(here - at) <= reach)) break;
      if (value === null) continue;
      if (best === null || Math.abs(here - at) < Math.abs(best.x - at)) best = { x: here, y: value };
      break;
    }
  }
  return best;
}
