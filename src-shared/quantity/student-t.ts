import quantile from '@stdlib/stats-base-dists-t-quantile';
import { normalQuantile } from './normal.ts';

/**
 * The point that Student's t stays below with probability `p`, for any degrees of freedom above 0, fractional ones and
 * infinity (then the normal distribution) included.
 */
export function studentTQuantile(p: number, dof: number): number {
  // Beyond a million the two agree to better than 3 in a million, and the incomplete beta function converges slowly.
  return dof > 1e6 ? normalQuantile(p) : quantile(p, dof);
}
