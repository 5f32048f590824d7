import * as v from 'valibot';
import type { GuardState } from '../interlock/state.ts';

const isGuardState = (input: unknown): input is GuardState =>
  typeof input === 'object' &&
  input !== null &&
  'kind' in input &&
  'revision' in input &&
  typeof input.revision === 'number';

/** The guard's whole state, with the program's monotonic clock at the moment it was sent. */
export const GuardView = v.strictObject({
  nowMs: v.number(),
  state: v.custom<GuardState>(isGuardState, 'Not a state of the guard.'),
});
export type GuardView = v.InferOutput<typeof GuardView>;
