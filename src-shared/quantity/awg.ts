/** 4/0, the thickest size that has a name of its own; `1/0` is 0, `2/0` is -1 and so on. */
export const thickestAwg = -3;
export const thinnestAwg = 56;

/** A wire gauge by number, or `1/0` to `4/0` for the sizes above 1. */
export type AwgName = number | '1/0' | '2/0' | '3/0' | '4/0';

/** Bare diameter in mm of gauge `n` (0 is 1/0, -3 is 4/0), unrounded: ASTM B258, 0.127 mm x 92^((36 - n)/39). */
export const awgDiameterMm = (n: number): number => 0.127 * 92 ** ((36 - n) / 39);

/** The gauge, with fractions, that has this bare diameter in mm: the inverse of `awgDiameterMm`. */
export const awgOfDiameterMm = (diameterMm: number): number => 36 - (39 * Math.log(diameterMm / 0.127)) / Math.log(92);

/** The number behind a gauge's name. */
export const awgNumber = (name: AwgName): number => (typeof name === 'number' ? name : 1 - Number(name.charAt(0)));

/** How a gauge is written: `12`, `1/0`, `4/0`. */
export const awgName = (n: number): string => (n > 0 ? String(n) : `${1 - n}/0`);
