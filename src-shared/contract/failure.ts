import * as v from 'valibot';

/** Every expected failure that can cross the contract. Added to, never renamed: pages and tests branch on these. */
export const failureCodes = [
  'bad-message',
  'unknown-request',
  'bad-input',
  'not-found',
  'stale',
  'guard-refused',
  'no-session',
  'session-open',
  'session-closed',
  'no-run',
  'run-open',
  'build-in-use',
  'meter-unrated',
  'link-not-isolated',
  'meter-missing',
  'meter-in-use',
  'port-taken',
  'wrong-unit',
  'unreadable',
  'not-settled',
  'calculation-refused',
  'disk-full',
  'busy',
  'internal',
  'no-connection',
  'session-signed',
  'store-held',
  'store-newer',
  'store-damaged',
  'store-unwritable',
  /** A person called it off: what was begun is gone again. */
  'cancelled',
] as const;
export type FailureCode = (typeof failureCodes)[number];

/** An expected failure as a value: what happened, what would be accepted, and at which place of the input. */
export const Failure = v.strictObject({
  code: v.picklist(failureCodes),
  /** A sentence for the person: what happened, what is kept, what to do. */
  message: v.string(),
  /** Where in the input, such as `fields.mass.value`; absent when it is about the whole. */
  path: v.optional(v.string()),
  /** The closed code of the part that refused (guard, grammar, calculation), with its numbers. */
  detail: v.optional(v.unknown()),
});
export type Failure = v.InferOutput<typeof Failure>;

/** A value, or the failure that stands in its place. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly failure: Failure };

export const done = <T>(value: T): Outcome<T> => ({ ok: true, value });

export const failed = (
  code: FailureCode,
  message: string,
  more: { path?: string; detail?: unknown } = {},
): { ok: false; failure: Failure } => ({
  ok: false,
  failure: { code, message, ...more },
});

/** The failure that a schema's first issue amounts to: its message and the path to the field. */
export function badInput(issues: readonly [v.BaseIssue<unknown>, ...v.BaseIssue<unknown>[]]): {
  ok: false;
  failure: Failure;
} {
  const [first] = issues;
  const path = v.getDotPath(first);
  return failed('bad-input', first.message, path === null ? {} : { path });
}
