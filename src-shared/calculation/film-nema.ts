/** Film-insulated round wire by NEMA: one gauge, all in mils (0.001 in). Null: not in the part of the table we have. */
export interface NemaFilmRow {
  readonly awg: number;
  readonly leastBare: number;
  readonly single: { readonly leastIncrease: number | null; readonly largestOverall: number | null };
  readonly heavy: { readonly leastIncrease: number | null; readonly largestOverall: number | null };
  /** False: the largest overall diameter of the heavy build is from memory. */
  readonly isHeavyConfirmed: boolean;
}

export const nemaFilmSource = 'ANSI/NEMA MW 1000, Part 3, dimensions of round film-insulated wire';

type Pair = readonly [number | null, number | null];
const none: Pair = [null, null];

const row = (
  awg: number,
  leastBare: number,
  [singleIncrease, singleOverall]: Pair,
  [heavyIncrease, heavyOverall]: Pair,
  isHeavyConfirmed = true,
): NemaFilmRow => ({
  awg,
  leastBare,
  single: { leastIncrease: singleIncrease, largestOverall: singleOverall },
  heavy: { leastIncrease: heavyIncrease, largestOverall: heavyOverall },
  isHeavyConfirmed,
});

/** Thickest first: least bare diameter, then [least increase, largest overall] of the single and the heavy build. */
export const nemaFilm: readonly NemaFilmRow[] = [
  row(6, 160.4, none, [3.5, 167.1]),
  row(7, 142.9, none, [3.4, 149.1]),
  row(8, 127.2, none, [3.3, 133.2]),
  row(9, 113.3, none, [3.2, 118.9]),
  row(10, 100.9, none, [3.1, 106.1], false),
  row(11, 89.8, none, [3, 94.8], false),
  row(12, 80, none, [2.9, 84.7], false),
  row(13, 71.3, none, [2.8, 75.7], false),
  row(14, 63.5, [1.6, 66.6], [3.2, 68.2], false),
  row(15, 56.5, [1.5, 59.4], [3, 60.9], false),
  row(16, 50.3, [1.4, 53.1], [2.9, 54.5], false),
  row(17, 44.8, [1.4, 47.5], [2.8, 48.8], false),
  row(18, 39.9, [1.3, 42.4], [2.6, 43.7], false),
  row(19, 35.5, [1.2, 37.9], [2.5, 39.1], false),
  row(20, 31.7, [1.2, 33.9], [2.3, 35.1], false),
  row(21, 28.2, [1.1, 30.3], [2.2, 31.4], false),
  row(22, 25, [1.1, 27], [2.1, 28.1], false),
  row(23, 22.4, [1, 24.3], [2, 25.3], false),
  row(24, 19.9, [1, 21.7], [1.9, 22.7], false),
];

export const nemaFilmRow = (awg: number): NemaFilmRow | null => nemaFilm.find((each) => each.awg === awg) ?? null;
