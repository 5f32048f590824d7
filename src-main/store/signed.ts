import { failed } from '../../src-shared/contract/failure.ts';
import type { Context } from './context.ts';

/** Whether a session takes no more rows. The triggers keep it; this is asked first, so that a refusal has its code. */
export interface Signed {
  session(sessionId: number): boolean;
  run(runId: number): boolean;
  refusal(): ReturnType<typeof failed>;
}

/** Asks a connection what is signed off. */
export function createSigned({ database }: Context): Signed {
  const session = database.prepare<[number]>('SELECT 1 FROM session_sign_off WHERE session_id = ?');
  const run = database.prepare<[number]>('SELECT 1 FROM signed_run WHERE run_id = ?');
  return {
    session: (sessionId) => session.get(sessionId) !== undefined,
    run: (runId) => run.get(runId) !== undefined,
    refusal: () => failed('session-signed', 'This session is signed off: nothing is added to it or changed in it.'),
  };
}
