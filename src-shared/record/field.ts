import * as v from 'valibot';

/** Says a bound in the words of the field: `between(0.1, 500, 'Mass')` refuses with what would be accepted. */
export const between = (lowest: number, highest: number, field: string) =>
  v.pipe(
    v.number(`${field} must be a number from ${lowest} to ${highest}.`),
    v.finite(`${field} must be a number from ${lowest} to ${highest}.`),
    v.minValue(lowest, `${field} must be at least ${lowest}.`),
    v.maxValue(highest, `${field} must be at most ${highest}.`),
  );

/** Text that must say something: at least one character that is not a space. */
export const words = (field: string, longest = 120) =>
  v.pipe(
    v.string(`${field} must be text.`),
    v.trim(),
    v.minLength(1, `${field} must not be empty.`),
    v.maxLength(longest, `${field} must be at most ${longest} characters.`),
  );

/** Text that may be empty. */
export const note = (field: string, longest = 2000) =>
  v.pipe(v.string(`${field} must be text.`), v.maxLength(longest, `${field} must be at most ${longest} characters.`));

/** The number by which the store knows a record. */
export const recordId = v.pipe(v.number(), v.safeInteger(), v.minValue(1, 'A record number counts from 1.'));

/** Milliseconds since 1970 by the wall clock. */
export const wallMs = v.pipe(v.number(), v.finite());

/** Milliseconds on the one clock that never steps. */
export const monoMs = v.pipe(v.number(), v.finite());

/** A quantity as a record holds it; `u` is its standard uncertainty, null when nobody said. */
export const measured = (lowest: number, highest: number, field: string) =>
  v.strictObject({
    value: between(lowest, highest, field),
    u: v.nullable(between(0, highest, `Uncertainty of ${field.toLowerCase()}`)),
  });

/** A value and its standard uncertainty in the value's unit (null: not known). */
export interface Measured {
  readonly value: number;
  readonly u: number | null;
}
