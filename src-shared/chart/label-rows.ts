/**
 * The row for each label, in the order of the places, so that no two of one row overlap: the first row that is free. A
 * label that fits into none gets null and stays unwritten; its shape is drawn all the same.
 * @param places - left edge of each label, ascending, and its width; in the same unit
 */
export function labelRows(
  places: readonly { readonly left: number; readonly width: number }[],
  rows: number,
  apart: number,
): readonly (number | null)[] {
  const ends = Array.from({ length: rows }, () => -Infinity);
  return places.map(({ left, width }) => {
    const row = ends.findIndex((end) => left >= end + apart);
    if (row < 0) return null;
    ends[row] = left + width;
    return row;
  });
}
