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
  /** Standard uncertainty of the part that belongs to this value alone, in the value's unit; 0 when exact. */
  readonly u: number;
  readonly shape: Shape;
  /** Degrees of freedom of `u`; `Infinity` when it is known well. */
  readonly dof: number;
  readonly shared?: SharedPart;
}
