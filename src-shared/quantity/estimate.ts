/** The part of an uncertainty that every value with the same `id` has in common: one meter on one range, say. */
export interface SharedPart {
  /** What is shared: values with equal ids are fully correlated in this part. */
  readonly id: string;
  /** Standard uncertainty of the shared part, in the value's unit. */
  readonly u: number;
}

/** The shape of the distribution behind a value's own part of the uncertainty (JCGM 101:2008, 6.4). */
export type Shape = 'normal' | 'rectangular' | 'triangular';

/** A quantity as it is known: a value, how far it can be trusted, and what its doubt has in common with others. */
export interface Estimate {
  readonly value: number;
  /** Standard uncertainty of the part that belongs to this value alone, in its unit; 0 when exact, null when unknown. */
  readonly u: number | null;
  readonly shape: Shape;
  /** Degrees of freedom of `u`; `Infinity` when it is known well. */
  readonly dof: number;
  readonly shared?: SharedPart;
}

/** A value without doubt: a count, a constant, a number that somebody chose. */
export const exact = (value: number): Estimate => ({ value, u: 0, shape: 'normal', dof: Infinity });

/** A value that is only known to lie within `halfWidth` of `value`, every place equally likely (JCGM 100:2008, 4.3.7). */
export const rectangular = (value: number, halfWidth: number): Estimate => ({
  value,
  u: halfWidth / Math.sqrt(3),
  shape: 'rectangular',
  dof: Infinity,
});

/** The whole standard uncertainty, own and shared part together, in the value's unit; null when it is not known. */
export const standardUncertainty = ({ u, shared }: Estimate): number | null =>
  u === null ? null : Math.hypot(u, shared?.u ?? 0);

/** Tells an estimate from a plain number, a list or a group of further values. */
export const isEstimate = (thing: unknown): thing is Estimate =>
  typeof thing === 'object' && thing !== null && 'value' in thing && 'u' in thing && 'shape' in thing && 'dof' in thing;
