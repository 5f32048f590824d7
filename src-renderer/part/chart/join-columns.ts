/** A curve as columns of equal length, `x` ascending. */
interface Columns {
  readonly x: readonly number[];
  readonly y: readonly (number | null)[];
}

type Joined = (number | null | undefined)[];

/** Makes every place between the last value before a gap and the first one after it part of the gap. */
function widenGaps(column: Joined): void {
  let from = 0;
  let isGap = false;
  for (let index = 0; index <= column.length; index++) {
    const value = column[index];
    if (value === undefined && index < column.length) continue;
    if (value === null) {
      isGap = true;
      continue;
    }
    if (isGap) column.fill(null, from, index);
    from = index + 1;
    isGap = false;
  }
}

/**
 * Curves with their own places on one axis of all places: where a curve has no point of its own it is `undefined` and
 * its line goes on; where it has a gap it is null, from its last point before to its first point after.
 */
export function joinColumns(curves: readonly Columns[]): { readonly x: number[]; readonly y: readonly Joined[] } {
  const all = new Float64Array(curves.reduce((sum, { x }) => sum + x.length, 0));
  let filled = 0;
  for (const { x } of curves) {
    all.set(x, filled);
    filled += x.length;
  }
  all.sort();
  const places: number[] = [];
  for (const x of all) if (places.length === 0 || x !== places[places.length - 1]) places.push(x);
  const y = curves.map((curve) => {
    const column: Joined = [];
    let next = 0;
    let hasGap = false;
    for (const place of places) {
      // Of several points at one place the last stands.
      let value: number | null | undefined;
      for (; curve.x[next] === place; next++) value = curve.y[next] ?? null;
      hasGap ||= value === null;
      column.push(value);
    }
    if (hasGap) widenGaps(column);
    return column;
  });
  return { x: places, y };
}
