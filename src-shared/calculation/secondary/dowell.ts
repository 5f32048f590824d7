/** Depth at which alternating current has fallen to 1/e, in mm, for a resistivity in Ω mm²/m: sqrt(ρ / (π f µ0)). */
export const skinDepth = (resistivity: number, hertz: number): number =>
  1000 * Math.sqrt((resistivity * 1e-6) / (Math.PI * hertz * 4e-7 * Math.PI));

/** Under this the closed form loses digits to cancellation, and the series has them all. */
const smallest = 0.3;

/**
 * Resistance to alternating current over that to direct current of a winding of `layers` layers: P. L. Dowell, Effects of
 * eddy currents in transformer windings, Proc. IEE 113 (1966), with the field rising from none to full over the layers.
 * @param depth - height of the conductor in skin depths, times the root of the part of the layer that is conductor
 */
export function dowellFactor(depth: number, layers: number): number {
  if (depth < smallest) return 1 + ((5 * layers ** 2 - 1) / 45) * depth ** 4;
  const own = (Math.sinh(2 * depth) + Math.sin(2 * depth)) / (Math.cosh(2 * depth) - Math.cos(2 * depth));
  const near = (Math.sinh(depth) - Math.sin(depth)) / (Math.cosh(depth) + Math.cos(depth));
  return depth * (own + (2 * (layers ** 2 - 1) * near) / 3);
}
