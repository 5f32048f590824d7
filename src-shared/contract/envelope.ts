import * as v from 'valibot';
import { Failure } from './failure.ts';
import { Push } from './push.ts';

/** Raised when an envelope or a request changes so that an older page would misread it. */
export const contractVersion = 1;

const sequence = v.pipe(v.number(), v.safeInteger(), v.minValue(0));

/**
 * What a page sends. `hello` comes first on every connection and says what the page saw last, so that a page that was
 * away is given what it missed.
 */
export const FromPage = v.variant('kind', [
  v.strictObject({
    kind: v.literal('hello'),
    contract: v.number(),
    /** The life of the program that the page knew, and the last push it saw of it; null on a first visit. */
    seen: v.nullable(v.strictObject({ life: v.string(), sequence })),
  }),
  v.strictObject({ kind: v.literal('request'), id: sequence, name: v.string(), input: v.unknown() }),
]);
export type FromPage = v.InferOutput<typeof FromPage>;

/** What the program sends. Pushes count upwards without gaps, apart from readings a slow page lost, which are told. */
export const ToPage = v.variant('kind', [
  v.strictObject({
    kind: v.literal('welcome'),
    contract: v.number(),
    life: v.string(),
    sequence,
    /** True when events were missed that can no longer be replayed: the page asks for everything afresh. */
    afresh: v.boolean(),
  }),
  v.strictObject({ kind: v.literal('reply'), id: sequence, ok: v.literal(true), value: v.unknown() }),
  v.strictObject({ kind: v.literal('refusal'), id: sequence, ok: v.literal(false), failure: Failure }),
  v.strictObject({ kind: v.literal('push'), sequence, push: Push }),
]);
export type ToPage = v.InferOutput<typeof ToPage>;
