/** Enamelled round wire by IEC: one nominal conductor diameter, all in mm. */
export interface IecFilmRow {
  readonly nominal: number;
  readonly grade1: { readonly leastIncrease: number; readonly largestOverall: number };
  readonly grade2: { readonly leastIncrease: number; readonly largestOverall: number };
  /** False: from memory, not seen in a copy of the standard. */
  readonly isConfirmed: boolean;
}

export const iecFilmSource = 'IEC 60317-0-1, Table 1 and Annex A (R20 sizes and the rule for sizes between them)';

const row = (
  nominal: number,
  [increase1, overall1]: readonly [number, number],
  [increase2, overall2]: readonly [number, number],
  isConfirmed = true,
): IecFilmRow => ({
  nominal,
  grade1: { leastIncrease: increase1, largestOverall: overall1 },
  grade2: { leastIncrease: increase2, largestOverall: overall2 },
  isConfirmed,
});

/** The R20 sizes that windings of this trade use, smallest first: [least increase, largest overall] of grade 1 and 2. */
export const iecFilm: readonly IecFilmRow[] = [
  row(0.2, [0.014, 0.226], [0.027, 0.239], false),
  row(0.224, [0.015, 0.252], [0.029, 0.266], false),
  row(0.25, [0.017, 0.281], [0.032, 0.297], false),
  row(0.28, [0.018, 0.312], [0.033, 0.329], false),
  row(0.315, [0.019, 0.349], [0.035, 0.367], false),
  row(0.355, [0.02, 0.392], [0.038, 0.411], false),
  row(0.4, [0.021, 0.439], [0.04, 0.459], false),
  row(0.45, [0.022, 0.491], [0.042, 0.513], false),
  row(0.5, [0.024, 0.544], [0.045, 0.566]),
  row(0.56, [0.025, 0.606], [0.047, 0.63]),
  row(0.63, [0.027, 0.679], [0.05, 0.704]),
  row(0.71, [0.028, 0.762], [0.053, 0.789], false),
  row(0.8, [0.03, 0.855], [0.056, 0.884]),
  row(0.9, [0.032, 0.959], [0.06, 0.989]),
  row(1, [0.034, 1.062], [0.063, 1.094]),
  row(1.12, [0.034, 1.184], [0.065, 1.217]),
  row(1.25, [0.035, 1.316], [0.067, 1.349]),
  row(1.4, [0.036, 1.468], [0.069, 1.502], false),
  row(1.6, [0.038, 1.67], [0.071, 1.706]),
  row(1.8, [0.039, 1.872], [0.073, 1.909]),
  row(2, [0.04, 2.074], [0.075, 2.112]),
  row(2.24, [0.041, 2.316], [0.077, 2.355], false),
  row(2.5, [0.042, 2.578], [0.079, 2.618]),
  row(2.8, [0.043, 2.88], [0.081, 2.922], false),
  row(3.15, [0.045, 3.233], [0.084, 3.276]),
];

/** Two diameters nearer than this are the same nominal size. */
const sameSizeMm = 0.0005;

/** The row that a nominal diameter takes: its own, or the next larger R20 size (Annex A); null outside the table. */
export function iecFilmRow(nominalMm: number): IecFilmRow | null {
  const first = iecFilm[0];
  if (first === undefined || nominalMm < first.nominal - sameSizeMm) return null;
  return iecFilm.find(({ nominal }) => nominal >= nominalMm - sameSizeMm) ?? null;
}

/**
 * Tolerance of a conductor's diameter in mm: 1 % of the R20 size it counts as, to 0.001 mm (IEC 60317-0-1); null under
 * 0.5 mm, where other steps hold that we have not confirmed.
 */
export const iecConductorTolerance = ({ nominal }: IecFilmRow): number | null =>
  nominal < 0.5 ? null : Math.floor(nominal * 10 + 0.5) / 1000;
