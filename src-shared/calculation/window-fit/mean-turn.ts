import type { Estimate } from '../../quantity/estimate.ts';

/**
 * A turn at distance r from a limb of `tongue` by `stack` is 2 (tongue + stack) + c r long: c is 2 π where wire goes round
 * the corners in quarter circles and 8 where it keeps square ones. Wound by hand it lies between, seldom near either end:
 * taken as normal with 95 % of it between the two (JCGM 100:2008, 4.3.5).
 */
const round = 2 * Math.PI;
const square = 8;

export const cornerFactor: Estimate = {
  value: (round + square) / 2,
  u: (square - round) / 4,
  shape: 'normal',
  dof: Infinity,
};

export interface Limb {
  readonly tongueMm: number;
  readonly stackMm: number;
  readonly corner: number;
  /** What lies between the limb and the free room. */
  readonly innerMm: number;
}

/** Length of a turn in mm whose middle is `outMm` into the free room. */
export const turnLength = ({ tongueMm, stackMm, corner, innerMm }: Limb, outMm: number): number =>
  2 * (tongueMm + stackMm) + corner * (innerMm + outMm);
