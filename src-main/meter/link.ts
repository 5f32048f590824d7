import {
  valuesOf,
  type Expectations,
  type MeterOrigin,
  type MeterReading,
  type NamedValue,
} from '../../src-shared/meter/channel-reading.ts';
import type { SerialMeter } from '../../src-shared/meter/description.ts';
import type { HeardLine } from '../../src-shared/meter/heard-line.ts';
import { readLine } from '../../src-shared/meter/line-grammar.ts';
import type { DropReason } from '../../src-shared/meter/line-guard.ts';
import { linkStatus, type LinkReason, type LinkState, type LinkStatus } from '../../src-shared/meter/link-status.ts';
import type { Clock } from '../bench/clock.ts';
import { openConnection, type Connection } from './connection.ts';
import type { MeterPort } from './meter-port.ts';

/** What a link needs to know of its meter. */
export type LinkedMeter = Pick<
  SerialMeter,
  'port' | 'talk' | 'format' | 'values' | 'bareUnit' | 'scales' | 'typicalIntervalMs'
>;

export interface LinkOptions {
  readonly meterId: number;
  readonly meter: LinkedMeter;
  readonly origin: MeterOrigin;
  /** A new port, not opened, for each connection. */
  readonly newPort: () => MeterPort | Promise<MeterPort>;
  readonly clock: Pick<Clock, 'monoMs' | 'wallMs' | 'after'>;
  readonly onReading: (reading: MeterReading) => void;
  readonly onStatus: (status: LinkStatus) => void;
  /** Every line with how it was read, for a meter on trial. */
  readonly onHeard?: (line: HeardLine) => void;
}

/** Waits between attempts, doubled up to the longest, and the least time to be called silent after. All in ms. */
const waits = { first: 250, longest: 5000, leastSilence: 1500 } as const;
/** A meter is silent after this many of its typical intervals without a reading. */
const intervalsToSilence = 3;

/**
 * The link to one meter: keeps it connected, turns its lines into readings, and says where it stands. Started once and
 * stopped once; another link is made to begin again.
 */
export class Link {
  readonly #options: LinkOptions;
  #status: LinkStatus;
  #expected: Expectations = {};
  #connection: Connection | null = null;
  #attempt: Promise<void> | null = null;
  #wait: number = waits.first;
  #isStopped = true;
  #lastGoodMs = 0;
  #heardSinceGood = false;
  #callOffRetry: (() => void) | null = null;
  #callOffSilence: (() => void) | null = null;

  constructor(options: LinkOptions) {
    this.#options = options;
    this.#status = linkStatus('off', options.clock.monoMs());
  }

  status(): LinkStatus {
    return this.#status;
  }

  /** What the channels take; another unit is refused from now on. */
  expect(expected: Expectations): void {
    this.#expected = expected;
  }

  start(): void {
    this.#isStopped = false;
    this.#say('connecting');
    this.#connect();
  }

  /** Resolves when the port is free again. Nothing is said after the call. */
  async stop(): Promise<void> {
    this.#isStopped = true;
    this.#callOffRetry?.();
    this.#callOffSilence?.();
    this.#status = linkStatus('off', this.#options.clock.monoMs());
    await this.#attempt;
    await this.#connection?.close();
    this.#connection = null;
  }

  #say(state: LinkState, why: LinkReason | null = null, detail = ''): void {
    if (this.#isStopped || (this.#status.state === state && this.#status.why === why)) return;
    this.#status = linkStatus(state, this.#options.clock.monoMs(), why, detail);
    this.#options.onStatus(this.#status);
  }

  #connect(): void {
    this.#attempt = this.#open().catch((error: unknown) => {
      this.#say('failed', 'open-failed', String(error));
    });
  }

  async #open(): Promise<void> {
    const { meter, newPort, clock } = this.#options;
    const opened = await openConnection({
      newPort,
      path: meter.port.path,
      lines: meter.port,
      encoding: meter.format.encoding,
      begins: 'mid-line',
      clock,
      onLine: (text) => {
        this.#read(text);
      },
      onDropped: (why, text) => {
        this.#drop(why, text);
      },
      onLost: () => {
        this.#lose();
      },
    });
    if (opened.kind === 'failed') {
      // A lost port that is not there yet is still lost: since when it went away is what the person wants to know.
      const isStillAway = this.#status.state === 'lost' && opened.why === 'not-found';
      if (!isStillAway) this.#say('failed', opened.why, opened.why === 'open-failed' ? opened.detail : '');
      void opened.settled.then(() => {
        this.#tryLater();
      });
      return;
    }
    this.#connection = opened.connection;
    if (this.#isStopped) return;
    this.#say('connecting');
    this.#listenForSilence();
  }

  #tryLater(): void {
    if (this.#isStopped) return;
    this.#callOffRetry = this.#options.clock.after(this.#wait, () => {
      this.#connect();
    });
    this.#wait = Math.min(this.#wait * 2, waits.longest);
  }

  #lose(): void {
    this.#connection = null;
    this.#callOffSilence?.();
    this.#say('lost', 'port-lost');
    this.#tryLater();
  }

  #listenForSilence(): void {
    const { clock, meter } = this.#options;
    const allowed = Math.max(waits.leastSilence, intervalsToSilence * meter.typicalIntervalMs);
    this.#lastGoodMs = clock.monoMs();
    this.#heardSinceGood = false;
    const look = () => {
      const left = this.#lastGoodMs + allowed - clock.monoMs();
      const isWrongStill = this.#status.why === 'wrong-unit' && this.#heardSinceGood;
      if (left <= 0 && !isWrongStill) this.#say('silent', this.#heardSinceGood ? 'nothing-readable' : 'nothing-heard');
      if (left <= 0) this.#heardSinceGood = false;
      this.#callOffSilence = clock.after(left > 0 ? left : allowed, look);
    };
    this.#callOffSilence?.();
    this.#callOffSilence = clock.after(allowed, look);
  }

  #drop(why: DropReason, text: string): void {
    if (this.#isStopped) return;
    this.#heardSinceGood = true;
    this.#options.onHeard?.({ kind: 'dropped', atMs: this.#options.clock.monoMs(), text, why });
  }

  #read(text: string): void {
    if (this.#isStopped) return;
    const { meter, clock, meterId, origin, onReading, onHeard } = this.#options;
    const stamp = { meterId, atMs: clock.monoMs(), wallMs: clock.wallMs(), origin, practice: origin === 'practice' };
    const values = valuesOf(text, readLine(text, meter.format.decimal), meter, this.#expected);
    this.#judge(values, stamp.atMs);
    onHeard?.({ kind: 'read', atMs: stamp.atMs, text, values });
    for (const { name, value } of values) onReading({ ...value, ...stamp, name });
  }

  /** A value that was read is an answer; one in another unit counts as silence, at once. */
  #judge(values: readonly NamedValue[], atMs: number): void {
    this.#heardSinceGood = true;
    if (values.some(({ value }) => value.kind !== 'unreadable')) {
      this.#lastGoodMs = atMs;
      this.#heardSinceGood = false;
      this.#wait = waits.first;
      this.#say('answering');
      return;
    }
    const wrong = values
      .map(({ value }) => value)
      .find((value) => value.kind === 'unreadable' && value.why === 'wrong-unit');
    if (wrong?.kind === 'unreadable') this.#say('silent', 'wrong-unit', wrong.detail);
  }
}
