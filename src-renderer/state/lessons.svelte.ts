import type { Push } from '../../src-shared/contract/push.ts';
import type { LessonId } from '../../src-shared/practice/lesson/lesson.ts';
import type { LessonsView } from '../../src-shared/practice/lesson/lessons-view.ts';
import type { Connection } from './connection.svelte.ts';

/** What follows from other things than pushes, such as how long a run is by now, is seen so soon. In ms. */
const askEveryMs = 2000;
/** Many pushes lead to one question. In ms. */
const gatherMs = 120;

const told: readonly Push['kind'][] = ['guard', 'run', 'event', 'changed'];

/** How the lessons of the practice bench stand, kept up to date while one is in hand. */
export class Lessons {
  value = $state.raw<LessonsView | null>(null);
  problem = $state<string | null>(null);
  readonly #connection: Connection;
  readonly #endings: readonly (() => void)[];
  #waiting: ReturnType<typeof setTimeout> | null = null;

  constructor(connection: Connection) {
    this.#connection = connection;
    const timer = setInterval(() => {
      if (this.isInHand) this.#soon();
    }, askEveryMs);
    this.#endings = [
      () => clearInterval(timer),
      connection.onArrival(() => void this.again()),
      connection.onPush((push) => {
        const touches = push.kind === 'changed' && ['lesson', 'core'].includes(push.what);
        if (touches || (this.isInHand && told.includes(push.kind))) this.#soon();
      }),
    ];
  }

  get isInHand(): boolean {
    return this.value !== null && this.value.inHand !== null;
  }

  /** Begins a lesson (anew, too), leaves it, takes it up again, or says that two builds were looked at. */
  async mark(lessonId: LessonId, act: 'begun' | 'left' | 'taken-up' | 'compared'): Promise<void> {
    const outcome = await this.#connection.ask('lesson.mark', { lessonId, act });
    if (outcome.ok) this.value = outcome.value;
    this.problem = outcome.ok ? null : outcome.failure.message;
  }

  async again(): Promise<void> {
    const outcome = await this.#connection.ask('lesson.list', {});
    if (outcome.ok) this.value = outcome.value;
  }

  stop(): void {
    if (this.#waiting !== null) clearTimeout(this.#waiting);
    for (const end of this.#endings) end();
  }

  #soon(): void {
    this.#waiting ??= setTimeout(() => {
      this.#waiting = null;
      void this.again();
    }, gatherMs);
  }
}
