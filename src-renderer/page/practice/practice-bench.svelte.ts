import type { PracticeControls, PracticeNow } from '../../../src-shared/practice/controls.ts';
import type { Connection } from '../../state/connection.svelte.ts';

/** How often the page asks what goes on, in ms. */
const askEveryMs = 1000;

/** The practice bench as the page sees it: how it is set, and what goes on there. */
export class PracticeBench {
  /** Null before the program has answered. */
  state = $state.raw<PracticeNow | null>(null);
  problem = $state<string | null>(null);
  readonly #connection: Connection;
  readonly #timer: ReturnType<typeof setInterval>;
  /** Counts what was asked, so that an older answer never takes back what was set since. */
  #asked = 0;

  constructor(connection: Connection) {
    this.#connection = connection;
    this.#timer = setInterval(() => void this.#ask(), askEveryMs);
    void this.#ask();
  }

  stop(): void {
    clearInterval(this.#timer);
  }

  /** Sets the bench otherwise; what is not named stays. */
  async set(change: Partial<PracticeControls>): Promise<void> {
    if (this.state === null) return;
    const controls = { ...this.state.controls, ...change };
    this.state = { ...this.state, controls };
    const asked = ++this.#asked;
    const outcome = await this.#connection.ask('practice.set', { controls });
    this.problem = outcome.ok ? null : outcome.failure.message;
    if (outcome.ok && asked === this.#asked) this.state = outcome.value;
  }

  /** Has something done at the bench: a fault hidden, told or mended, the meters' keys pressed. */
  async ask(what: 'practice.hide' | 'practice.tell' | 'practice.mend' | 'practice.press'): Promise<void> {
    const asked = ++this.#asked;
    const outcome = await this.#connection.ask(what, {});
    this.problem = outcome.ok ? null : outcome.failure.message;
    if (outcome.ok && asked === this.#asked) this.state = outcome.value;
  }

  async #ask(): Promise<void> {
    const asked = ++this.#asked;
    const outcome = await this.#connection.ask('practice.get', {});
    if (outcome.ok && asked === this.#asked) this.state = outcome.value;
  }
}
