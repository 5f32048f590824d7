import type { Chart } from './chart.ts';

/** Room around what is drawn, so that noise does not fill the height: at least 4 % of the value to both sides. */
function roomy(lowest: number | null, highest: number | null): readonly [number, number] {
  if (lowest === null || highest === null) return [0, 1];
  const middle = (lowest + highest) / 2;
  const half = Math.max((highest - lowest) * 0.56, Math.abs(middle) * 0.04, 1e-9);
  // What starts near zero is drawn from zero: its size is seen.
  return [lowest >= 0 && lowest <= 0.2 * highest ? 0 : middle - half, middle + half];
}

/** The lowest and highest of numbers; null when there is none. */
export function extent(values: Iterable<number | null | undefined>): readonly [number, number] | null {
  let [low, high] = [Infinity, -Infinity];
  for (const value of values) {
    if (value === null || value === undefined) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low <= high ? [low, high] : null;
}

/**
 * From where to where an axis goes: all of its curves and bands, and its levels as long as they would not press the
 * curves into less than half of the height.
 */
export function axisRange({ curves, bands, levels }: Pick<Chart, 'curves' | 'bands' | 'levels'>) {
  const drawn = extent([
    ...curves.flatMap(({ y }) => extent(y) ?? []),
    ...bands.flatMap(({ low, high }) => [...(extent(low) ?? []), ...(extent(high) ?? [])]),
  ]);
  const values = levels.map(({ value }) => value);
  if (drawn === null) {
    const levelled = extent(values);
    return levelled === null ? roomy(null, null) : roomy(...levelled);
  }
  const [low, high] = roomy(...drawn);
  const near = values.filter((value) => value > low - (high - low) && value < high + (high - low));
  const [lowest, highest] = extent([...drawn, ...near]) ?? drawn;
  return roomy(lowest, highest);
}
