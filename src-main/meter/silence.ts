import type { LinkReason } from '../../src-shared/meter/link-status.ts';
import type { Clock } from '../bench/clock.ts';

/** The least time without a reading to be called silent after, and how many intervals it takes. */
const leastSilenceMs = 1500;
const intervals = 3;

/** Watches for the readings of one connection to stop, and tells silence from lines that cannot be read. */
export class SilenceWatch {
  readonly #clock: Pick<Clock, 'monoMs' | 'after'>;
  readonly #allowedMs: number;
  readonly #onSilent: (why: LinkReason) => void;
  #lastGoodMs: number;
  #hasHeard = false;
  #callOff: () => void;

  constructor(clock: Pick<Clock, 'monoMs' | 'after'>, intervalMs: number, onSilent: (why: LinkReason) => void) {
    this.#clock = clock;
    this.#allowedMs = Math.max(leastSilenceMs, intervals * intervalMs);
    this.#onSilent = onSilent;
    this.#lastGoodMs = clock.monoMs();
    this.#callOff = clock.after(this.#allowedMs, () => {
      this.#look();
    });
  }

  /** Something came that was no reading. */
  heard(): void {
    this.#hasHeard = true;
  }

  /** A reading came. */
  answered(): void {
    this.#lastGoodMs = this.#clock.monoMs();
    this.#hasHeard = false;
  }

  end(): void {
    this.#callOff();
  }

  #look(): void {
    const left = this.#lastGoodMs + this.#allowedMs - this.#clock.monoMs();
    if (left <= 0) {
      this.#onSilent(this.#hasHeard ? 'nothing-readable' : 'nothing-heard');
      this.#hasHeard = false;
    }
    this.#callOff = this.#clock.after(left > 0 ? left : this.#allowedMs, () => {
      this.#look();
    });
  }
}
