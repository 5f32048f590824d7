import type { Ask } from '../../src-shared/meter/description.ts';
import { lineEnds } from '../../src-shared/meter/description.ts';
import type { Clock } from '../bench/clock.ts';

export interface ConversationOptions {
  readonly talk: Ask;
  readonly clock: Pick<Clock, 'monoMs' | 'after'>;
  /** Sends text; a rejection means that the port is going, and is told by the connection itself. */
  readonly send: (text: string) => Promise<void>;
  /** The line that answers the query. */
  readonly onReply: (text: string) => void;
  /** The line that answers an opening command. */
  readonly onAnswer: (to: string, text: string) => void;
  /** A line that nothing asked for. */
  readonly onUnasked: (text: string) => void;
}

/** A slow instrument loses what comes while it still works on a command that it does not answer. Common practice. */
const pauseMs = 100;

/** What was sent and has not been answered. */
interface Pending {
  readonly command: string;
  readonly isOpening: boolean;
  readonly sinceMs: number;
  readonly callOff: () => void;
}

/**
 * Asks a meter over one connection: the opening commands once, then the query again and again, one at a time, each with
 * its timeout. The first line after a query is its answer, unless it only repeats the query; any other line is unasked.
 */
export class Conversation {
  readonly #options: ConversationOptions;
  readonly #opening: string[];
  #pending: Pending | null = null;
  #callOffNext: (() => void) | null = null;
  #isOver = false;

  constructor(options: ConversationOptions) {
    this.#options = options;
    this.#opening = [...options.talk.opening];
  }

  begin(): void {
    this.#next();
  }

  end(): void {
    this.#isOver = true;
    this.#pending?.callOff();
    this.#callOffNext?.();
  }

  hear(text: string): void {
    const pending = this.#pending;
    if (pending === null || text.trim() === pending.command.trim()) {
      this.#options.onUnasked(text);
      return;
    }
    pending.callOff();
    this.#pending = null;
    if (pending.isOpening) this.#options.onAnswer(pending.command, text);
    else this.#options.onReply(text);
    this.#goOn(pending);
  }

  /** The next opening command, or the query once they are through. */
  #next(): void {
    if (this.#isOver) return;
    const opening = this.#opening.shift();
    const { talk, clock, send } = this.#options;
    const command = opening ?? talk.query;
    const isOpening = opening !== undefined;
    const isAnswered = !isOpening || command.trimEnd().endsWith('?');
    const sinceMs = clock.monoMs();
    if (isAnswered) {
      const callOff = clock.after(talk.timeoutMs, () => {
        const late = this.#pending;
        this.#pending = null;
        if (late !== null) this.#goOn(late);
      });
      this.#pending = { command, isOpening, sinceMs, callOff };
    }
    send(`${command}${lineEnds[talk.lineEnd]}`).then(
      () => {
        if (isAnswered || this.#isOver) return;
        this.#callOffNext = clock.after(pauseMs, () => {
          this.#next();
        });
      },
      () => {
        this.end();
      },
    );
  }

  #goOn({ isOpening, sinceMs }: Pending): void {
    if (this.#isOver) return;
    const { talk, clock } = this.#options;
    const waitMs = isOpening ? 0 : Math.max(0, sinceMs + talk.intervalMs - clock.monoMs());
    this.#callOffNext = clock.after(waitMs, () => {
      this.#next();
    });
  }
}
