import { awgName } from '../../quantity/awg.ts';
import { formatNumber } from '../../quantity/format.ts';
import { conductors, type Metal } from '../conductor.ts';
import type { Cable } from './cable.ts';

export const wireKinds = ['round', 'cable', 'strip'] as const;
export type WireKind = (typeof wireKinds)[number];

/** A wire that could be wound: lengths in mm, along the limb and out from it, insulation included. */
export interface WireOption {
  readonly name: string;
  readonly kind: WireKind;
  readonly metal: Metal;
  readonly areaMm2: number;
  readonly alongMm: number;
  readonly outMm: number;
  /** The metal alone, as a rectangle of the same area for the extra resistance: out from the limb. */
  readonly depthMm: number;
  readonly ohmsPerKm20: number;
  readonly kgPerKm: number;
  /** False: some dimension comes from a table that we have from memory. */
  readonly isConfirmed: boolean;
}

const mmPerM = 1000;
const metalOf = (metal: Metal, areaMm2: number, lay = 1) => ({
  metal,
  areaMm2,
  ohmsPerKm20: ((mmPerM * conductors[metal].resistivity20) / areaMm2) * lay,
  kgPerKm: areaMm2 * conductors[metal].density * lay,
});

/** How a size is written: `2.5 mm`, `AWG 12`. */
export const diameterName = (bareMm: number) => `${formatNumber(bareMm, 4)} mm`;
export const gaugeName = (awg: number) => `AWG ${awgName(awg)}`;

export function roundOption(
  name: string,
  bareMm: number,
  overallMm: number,
  { metal = 'copper', isConfirmed = true }: { readonly metal?: Metal; readonly isConfirmed?: boolean } = {},
): WireOption {
  return {
    name,
    kind: 'round',
    ...metalOf(metal, (Math.PI / 4) * bareMm ** 2),
    alongMm: overallMm,
    outMm: overallMm,
    // The square of equal area (Dowell 1966).
    depthMm: (bareMm * Math.sqrt(Math.PI)) / 2,
    isConfirmed,
  };
}

/** A twisted bunch of thin strands, taken as one solid square: the extra resistance is at most that. */
export const cableOption = (cable: Cable, metal: Metal = 'copper', isConfirmed = true): WireOption => ({
  name: cable.name,
  kind: 'cable',
  ...metalOf(metal, cable.areaMm2),
  ohmsPerKm20: cable.ohmsPerKm20,
  alongMm: cable.overallMm,
  outMm: cable.overallMm,
  depthMm: Math.sqrt(cable.areaMm2),
  isConfirmed,
});

/** Strip wound on its flat side; `insulationMm` is what it adds to either dimension, both sides together. */
export function stripOption(
  name: string,
  {
    widthMm,
    thicknessMm,
    insulationMm,
  }: { readonly widthMm: number; readonly thicknessMm: number; readonly insulationMm: number },
  { metal = 'copper', isConfirmed = true }: { readonly metal?: Metal; readonly isConfirmed?: boolean } = {},
): WireOption {
  return {
    name,
    kind: 'strip',
    ...metalOf(metal, widthMm * thicknessMm),
    alongMm: widthMm + insulationMm,
    outMm: thicknessMm + insulationMm,
    depthMm: thicknessMm,
    isConfirmed,
  };
}
