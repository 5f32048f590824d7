import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Session, SessionFields, SignOff } from '../../src-shared/record/session.ts';
import type { SessionContent } from './session-content.ts';

/** The sittings at the bench. At most one is open; it stays open when the program stops. */
export interface Sessions {
  /** `session-open` while another is open; `not-found` when there is no such build or winding of it. */
  open(fields: SessionFields, practice: boolean): Outcome<Session>;
  /** The session that is open; null when none is. */
  current(): Session | null;
  /** Ends the session. `not-found`; `session-closed` when it was ended before; `run-open` while a run is open. */
  end(sessionId: number): Outcome<Session>;
  /**
   * Writes a row that replaces what was said of the session, with the reason; its build cannot be another one
   * (`bad-input`). `not-found`; `session-signed`.
   */
  correct(sessionId: number, reason: string, fields: SessionFields): Outcome<Session>;
  get(sessionId: number): Session | null;
  /** Oldest first; of one core's builds when `coreId` is given. */
  list(coreId?: number): readonly Session[];

  /**
   * Everything that the session holds, as its content hash. Reads every row (about a second for half a million): for a
   * long session ask the jobs worker, which calls `readSessionContent` with a connection of its own.
   */
  content(sessionId: number): Outcome<SessionContent>;
  /**
   * Closes the session to change for good, by the database itself. `content` is what was hashed; `stale` when the
   * session holds more by now. `not-found`; `session-open` while it is not ended; `session-signed` when it is signed.
   */
  signOff(sessionId: number, who: string, content: SessionContent): Outcome<SignOff>;
  /** The sign-off of the session; null while there is none. */
  signOffOf(sessionId: number): SignOff | null;
}
