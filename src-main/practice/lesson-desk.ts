import * as v from 'valibot';
import type { GuardState } from '../../src-shared/interlock/state.ts';
import { circuitVolts } from '../../src-shared/practice/lesson/found.ts';
import type { CircuitVolts, LessonId } from '../../src-shared/practice/lesson/lesson.ts';
import { LessonMark } from '../../src-shared/practice/lesson/lessons-view.ts';
import { eventKind } from '../../src-shared/record/run.ts';
import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Clock } from '../bench/clock.ts';
import type { Store } from '../store/store.ts';

/** How a lesson was taken up. */
export interface LessonProgress {
  readonly begunWallMs: number;
  readonly hasCompared: boolean;
  readonly proof: CircuitVolts | null;
}

type Told = LessonMark['act'];

/** Which lesson is in hand and since when: told by events of the record, so that it survives whatever ends the program. */
export class LessonDesk {
  readonly #store: Pick<Store, 'events'>;
  readonly #clock: Clock;
  readonly #progress = new Map<LessonId, LessonProgress>();
  #inHand: LessonId | null = null;

  constructor(store: Pick<Store, 'events'>, clock: Clock) {
    this.#store = store;
    this.#clock = clock;
    for (const { body, wallMs } of store.events.ofKind(eventKind.lesson)) {
      const mark = v.safeParse(LessonMark, body);
      if (mark.success) this.#take(mark.output, wallMs);
    }
  }

  get inHand(): LessonId | null {
    return this.#inHand;
  }

  progress(lessonId: LessonId): LessonProgress | null {
    return this.#progress.get(lessonId) ?? null;
  }

  /** Writes what became of a lesson, and goes by it. */
  mark(lessonId: LessonId, act: Told, proof?: CircuitVolts): Outcome<unknown> {
    const mark: LessonMark = { lessonId, act, ...(proof === undefined ? {} : { proof: { volts: [...proof.volts] } }) };
    const written = this.#store.events.add({
      sessionId: null,
      runId: null,
      monoMs: this.#clock.monoMs(),
      kind: eventKind.lesson,
      body: mark,
    });
    if (written.ok) this.#take(mark, written.value.wallMs);
    return written;
  }

  /** A proof with a practice meter since its lesson was begun ends that, however long the proof stands. */
  noticeProof({ lastProof: proof }: GuardState): void {
    const progress = this.progress('make-dead');
    if (progress === null || progress.proof !== null) return;
    if (proof === null || !proof.practice || proof.instrument?.kind !== 'meter') return;
    const provedWallMs = this.#clock.wallMs() - (this.#clock.monoMs() - proof.provedAtMs);
    if (provedWallMs >= progress.begunWallMs) this.mark('make-dead', 'proved', { volts: circuitVolts(proof) });
  }

  #take({ lessonId, act, proof }: LessonMark, wallMs: number): void {
    const known = this.#progress.get(lessonId);
    if (act === 'begun') this.#progress.set(lessonId, { begunWallMs: wallMs, hasCompared: false, proof: null });
    if (act === 'begun' || act === 'taken-up') this.#inHand = lessonId;
    if (act === 'left' && this.#inHand === lessonId) this.#inHand = null;
    if (known === undefined) return;
    if (act === 'compared') this.#progress.set(lessonId, { ...known, hasCompared: true });
    if (act === 'proved') this.#progress.set(lessonId, { ...known, proof: proof ?? null });
  }
}
