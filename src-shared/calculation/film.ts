import { awgDiameterMm, awgOfDiameterMm } from '../quantity/awg.ts';
import { iecConductorTolerance, iecFilmRow } from './film-iec.ts';
import { nemaFilmRow } from './film-nema.ts';

export const films = ['iec-grade-1', 'iec-grade-2', 'nema-single', 'nema-heavy'] as const;
export type Film = (typeof films)[number];

/** How a film is said on a form. */
export const filmWords = {
  'iec-grade-1': 'IEC grade 1',
  'iec-grade-2': 'IEC grade 2',
  'nema-single': 'NEMA single',
  'nema-heavy': 'NEMA heavy',
} as const satisfies Readonly<Record<Film, string>>;

/** What a standard says of a wire with film: diameters in mm. */
export interface FilmedWire {
  /** Null where the table we have does not tell. */
  readonly largestOverallMm: number | null;
  readonly leastOverallMm: number | null;
  readonly diameterToleranceMm: number | null;
  readonly isConfirmed: boolean;
}

const mil = 0.0254;
/** A diameter this near to a gauge is that gauge, relative. */
const sameGauge = 0.01;

/** A wire of this bare diameter with this film, by its standard's table; null when the size is not in the table. */
export function filmedWire(film: Film, bareMm: number): FilmedWire | null {
  switch (film) {
    case 'iec-grade-1':
    case 'iec-grade-2': {
      const found = iecFilmRow(bareMm);
      if (found === null) return null;
      const { leastIncrease, largestOverall } = film === 'iec-grade-1' ? found.grade1 : found.grade2;
      const tolerance = iecConductorTolerance(found);
      return {
        largestOverallMm: bareMm + (largestOverall - found.nominal),
        leastOverallMm: tolerance === null ? null : bareMm - tolerance + leastIncrease,
        diameterToleranceMm: tolerance,
        isConfirmed: found.isConfirmed,
      };
    }
    case 'nema-single':
    case 'nema-heavy': {
      const awg = Math.round(awgOfDiameterMm(bareMm));
      const found = nemaFilmRow(awg);
      if (found === null || Math.abs(bareMm / awgDiameterMm(awg) - 1) > sameGauge) return null;
      const { leastIncrease, largestOverall } = film === 'nema-single' ? found.single : found.heavy;
      return {
        largestOverallMm: largestOverall === null ? null : largestOverall * mil,
        leastOverallMm: leastIncrease === null ? null : (found.leastBare + leastIncrease) * mil,
        diameterToleranceMm: null,
        isConfirmed: film === 'nema-single' || found.isHeavyConfirmed,
      };
    }
  }
}
