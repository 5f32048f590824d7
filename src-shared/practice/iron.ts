/** Permeability of free space, in H/m (CODATA 2018; exactly 4 pi 1e-7 before 2019). */
const freeSpace = 1.25663706212e-6;

/**
 * The iron of a simulated core, in SI units. The field follows the flux density B (in T) as
 * `linear B + saturating |B|^exponent sign(B)` in A/m, and as air does from where the iron has no more to give; the loss
 * follows Steinmetz: a hysteresis part that goes with B to a power and with the frequency, and an eddy part that goes with
 * the square of dB/dt.
 */
export interface Iron {
  /** Net iron area of the wound limb, in m². */
  readonly areaM2: number;
  /** Mean length of the flux path, in m. */
  readonly pathM: number;
  /** All gaps of the joint together, in m. */
  readonly gapM: number;
  /** In A/m at 1 T. */
  readonly linear: number;
  /** In A/m at 1 T. */
  readonly saturating: number;
  readonly exponent: number;
  /** Half the width of the loop at 1 T, in A/m. */
  readonly hysteresis: number;
  /** Power of B that the hysteresis loss of a cycle goes with; 1.6 to 2. */
  readonly steinmetz: number;
  /** In A/m at 1 T/s. */
  readonly eddy: number;
}

/** A value with its slope against what it was asked for. */
export interface Sloped {
  readonly value: number;
  readonly slope: number;
}

/** The flux density from which the field rises as in air, in T. */
function airFrom({ linear, saturating, exponent }: Iron): number {
  if (saturating === 0) return Infinity;
  return ((1 / freeSpace - linear) / (saturating * exponent)) ** (1 / (exponent - 1));
}

/** Ampere-turns that hold a flux (in Wb) in the iron and its gaps, without the loss; odd and rising. */
export function holding(iron: Iron, flux: number): Sloped {
  const { areaM2, pathM, gapM, linear, saturating, exponent } = iron;
  const tesla = Math.abs(flux) / areaM2;
  const bend = Math.min(tesla, airFrom(iron));
  const field = linear * bend + saturating * bend ** exponent + (tesla - bend) / freeSpace;
  const fieldSlope =
    tesla > bend ? 1 / freeSpace : linear + (saturating === 0 ? 0 : saturating * exponent * bend ** (exponent - 1));
  const gap = gapM / (freeSpace * areaM2);
  return {
    value: Math.sign(flux) * pathM * field + gap * flux,
    slope: (pathM / areaM2) * fieldSlope + gap,
  };
}

/** Below this the loop is pinched shut smoothly, in T; and it turns over within this share of its fastest change. */
const pinchTesla = 1e-3;
const turnShare = 0.02;

/**
 * Ampere-turns that go into loss while the flux (in Wb) changes by `rate` (in Wb/s) at an angular frequency (in rad/s):
 * a loop whose width goes with B so that a cycle loses `4 hysteresis B^steinmetz / steinmetz` J/m³, and eddies. The slopes
 * are against the flux and against its rate.
 */
export function losing(
  { areaM2, pathM, hysteresis, steinmetz, eddy }: Iron,
  flux: number,
  rate: number,
  angular: number,
): { readonly value: number; readonly byFlux: number; readonly byRate: number } {
  const tesla = flux / areaM2;
  const teslaRate = rate / areaM2;
  const squared = tesla * tesla + pinchTesla * pinchTesla;
  const width = hysteresis * squared ** ((steinmetz - 1) / 2);
  const turning = turnShare * angular;
  const side = Math.tanh(teslaRate / turning);
  return {
    value: pathM * (width * side + eddy * teslaRate),
    byFlux: ((pathM / areaM2) * width * side * (steinmetz - 1) * tesla) / squared,
    byRate: (pathM / areaM2) * ((width * (1 - side * side)) / turning + eddy),
  };
}
