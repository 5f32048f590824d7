import type { CheckMark } from '../../src-shared/record/check.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { RecordEvent } from '../../src-shared/record/run.ts';
import type { BatchWriter } from './batch.ts';
import type { Clock } from './clock.ts';

/** Where the session and the run stand at this moment; null when none is open. */
export interface Whereabouts {
  readonly sessionId: number | null;
  readonly runId: number | null;
}

/** Stamps what happens with its number, its place and both clocks, and puts it into the batch that is being gathered. */
export class Log {
  readonly #batch: BatchWriter;
  readonly #clock: Clock;
  readonly #nextEventId: () => number;
  readonly #push: (push: Push) => void;
  readonly #where: () => Whereabouts;

  constructor(parts: {
    batch: BatchWriter;
    clock: Clock;
    nextEventId: () => number;
    push: (push: Push) => void;
    where: () => Whereabouts;
  }) {
    this.#batch = parts.batch;
    this.#clock = parts.clock;
    this.#nextEventId = parts.nextEventId;
    this.#push = parts.push;
    this.#where = parts.where;
  }

  /** An event of the open session and run; pushed to the pages, unless the same is told them another way. */
  event(kind: string, body: unknown, pushed = false): RecordEvent {
    const event: RecordEvent = {
      eventId: this.#nextEventId(),
      ...this.#where(),
      wallMs: this.#clock.wallMs(),
      monoMs: this.#clock.monoMs(),
      kind,
      body,
    };
    this.#batch.event(event);
    if (pushed) this.#push({ kind: 'event', event });
    return event;
  }

  /** Writes what waits, now. What the disk refuses is kept and tried again. */
  writeNow(): void {
    this.#batch.flush();
  }

  /** The mark of one check. Outside a session there is none to mark. */
  check(mark: Pick<CheckMark, 'checkId' | 'mark' | 'who' | 'reason'>): void {
    const { sessionId, runId } = this.#where();
    if (sessionId === null) return;
    this.#batch.check({ sessionId, runId, ...mark, wallMs: this.#clock.wallMs(), monoMs: this.#clock.monoMs() });
  }
}
