import * as v from 'valibot';
import { badInput, done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { canonicalJson } from '../../src-shared/record/canonical.ts';

/** A value as the text of a JSON column; `bad-input` when it holds a number that is not finite or is no JSON. */
export function bodyText(value: unknown): Outcome<string> {
  const text = canonicalJson(value);
  return text === null ? failed('bad-input', 'Only finite numbers and plain values can be kept.') : done(text);
}

/** A value checked by its schema before it is written. */
export function checked<S extends v.GenericSchema>(schema: S, input: unknown): Outcome<v.InferOutput<S>> {
  const read = v.safeParse(schema, input);
  return read.success ? done(read.output) : badInput(read.issues);
}

/** The value of a JSON column; whoever reads it checks it by its schema, with the row's columns. */
export const bodyValue = (text: string): unknown => JSON.parse(text);

/** A stored row as the shape it is known by. Throws when it does not fit: the file was changed by other means. */
export function fromRow<S extends v.GenericSchema>(schema: S, value: unknown, what: string): v.InferOutput<S> {
  const read = v.safeParse(schema, value);
  if (read.success) return read.output;
  const [issue] = read.issues;
  throw new Error(`The record holds a ${what} that cannot be read: ${v.getDotPath(issue) ?? ''} ${issue.message}`);
}
