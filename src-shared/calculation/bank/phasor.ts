/** A sine as its two parts: in phase with the reference, and a quarter of a period ahead of it. */
export interface Phasor {
  readonly re: number;
  readonly im: number;
}

export const zero: Phasor = { re: 0, im: 0 };
export const plus = (a: Phasor, b: Phasor): Phasor => ({ re: a.re + b.re, im: a.im + b.im });
export const minus = (a: Phasor, b: Phasor): Phasor => ({ re: a.re - b.re, im: a.im - b.im });
export const times = (a: Phasor, b: Phasor): Phasor => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});
export const scaled = ({ re, im }: Phasor, by: number): Phasor => ({ re: re * by, im: im * by });
export const size = ({ re, im }: Phasor): number => Math.hypot(re, im);

export function over(a: Phasor, b: Phasor): Phasor {
  const square = b.re ** 2 + b.im ** 2;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
}

export const atAngle = (length: number, degrees: number): Phasor => {
  // Exactly reversed or in step where that is said, so that what cancels is nothing.
  if (degrees === 0) return { re: length, im: 0 };
  if (Math.abs(degrees) === 180) return { re: -length, im: 0 };
  const angle = (degrees * Math.PI) / 180;
  return { re: length * Math.cos(angle), im: length * Math.sin(angle) };
};

/** How much of a phasor lies along the direction of another; its size where the other is itself. */
export function along({ re, im }: Phasor, direction: Phasor): number {
  const length = size(direction);
  return length === 0 ? re : (re * direction.re + im * direction.im) / length;
}
