import {
  valuesOf,
  type Expectations,
  type MeterOrigin,
  type MeterReading,
  type NamedValue,
} from '../../src-shared/meter/channel-reading.ts';
import type { SerialMeter } from '../../src-shared/meter/description.ts';
import type { HeardLine } from '../../src-shared/meter/heard-line.ts';
import type { LineField } from '../../src-shared/meter/line-grammar.ts';
import { lineReader } from '../../src-shared/meter/line-reader.ts';
import { linkStatus, type LinkReason, type LinkState, type LinkStatus } from '../../src-shared/meter/link-status.ts';
import type { Clock } from '../bench/clock.ts';
import { openConnection, type Connection } from './connection.ts';
import { Conversation } from './conversation.ts';
import type { MeterPort } from './meter-port.ts';
import { SilenceWatch } from './silence.ts';

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

/** Waits between attempts in ms, doubled up to the longest. */
const waits = { first: 250, longest: 5000 } as const;

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
  #callOffRetry: (() => void) | null = null;
  #silence: SilenceWatch | null = null;
  #conversation: Conversation | null = null;
  readonly #fieldsOf: (text: string) => readonly LineField[];

  constructor(options: LinkOptions) {
    this.#options = options;
    this.#fieldsOf = lineReader(options.meter.format);
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
    this.#endTalk();
    this.#status = linkStatus('off', this.#options.clock.monoMs());
    await this.#attempt;
    await this.#connection?.close();
    this.#connection = null;
  }

  #say(state: LinkState, why: LinkReason | null = null, detail = ''): void {
    const status = linkStatus(state, this.#options.clock.monoMs(), why, detail);
    const isSame = this.#status.state === state && this.#status.sentence === status.sentence;
    if (this.#isStopped || isSame) return;
    this.#status = status;
    this.#options.onStatus(status);
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
      begins: meter.talk.mode === 'ask' ? 'flushed' : 'mid-line',
      clock,
      onLine: (text) => {
        if (this.#conversation === null) this.#read(text);
        else this.#conversation.hear(text);
      },
      onDropped: (why, text) => {
        this.#hear({ kind: 'dropped', atMs: clock.monoMs(), text, why });
      },
      onLost: () => {
        this.#connection = null;
        this.#endTalk();
        this.#say('lost', 'port-lost');
        this.#tryLater();
      },
    });
    if (opened.kind === 'failed') {
      // A lost port that is not there yet is still lost: since when it went away is what the person wants to know.
      const isStillAway = this.#status.state === 'lost' && opened.why === 'not-found';
      if (!isStillAway) this.#say(opened.why === 'port-lost' ? 'lost' : 'failed', opened.why, opened.detail);
      void opened.settled.then(() => {
        this.#tryLater();
      });
      return;
    }
    this.#connection = opened.connection;
    if (this.#isStopped) return;
    this.#say('connecting');
    this.#beginTalk(opened.connection);
  }

  #tryLater(): void {
    if (this.#isStopped) return;
    this.#callOffRetry = this.#options.clock.after(this.#wait, () => {
      this.#connect();
    });
    this.#wait = Math.min(this.#wait * 2, waits.longest);
  }

  #beginTalk(connection: Connection): void {
    const { clock, meter } = this.#options;
    const { talk } = meter;
    const askedMs = talk.mode === 'ask' ? Math.max(talk.intervalMs, talk.timeoutMs) : 0;
    this.#silence = new SilenceWatch(clock, Math.max(meter.typicalIntervalMs, askedMs), (why) => {
      const isWrongStill = this.#status.why === 'wrong-unit' && why === 'nothing-readable';
      if (!isWrongStill) this.#say('silent', why);
    });
    if (talk.mode !== 'ask') return;
    this.#conversation = new Conversation({
      talk,
      clock,
      send: (text) => connection.send(text),
      onReply: (text) => {
        this.#read(text);
      },
      onAnswer: (to, text) => {
        this.#hear({ kind: 'answer', atMs: clock.monoMs(), text, to });
      },
      onUnasked: (text) => {
        this.#hear({ kind: 'unasked', atMs: clock.monoMs(), text });
      },
    });
    this.#conversation.begin();
  }

  #endTalk(): void {
    this.#silence?.end();
    this.#conversation?.end();
    this.#silence = null;
    this.#conversation = null;
  }

  /** A line that gives no reading. */
  #hear(line: HeardLine): void {
    if (this.#isStopped) return;
    this.#silence?.heard();
    this.#options.onHeard?.(line);
  }

  #read(text: string): void {
    if (this.#isStopped) return;
    const { meter, clock, meterId, origin, onReading, onHeard } = this.#options;
    const [atMs, wallMs, practice] = [clock.monoMs(), clock.wallMs(), origin === 'practice'];
    const values = valuesOf(text, this.#fieldsOf(text), meter, this.#expected);
    this.#judge(values);
    onHeard?.({ kind: 'read', atMs, text, values });
    for (const { name, value } of values) onReading({ ...value, meterId, name, atMs, wallMs, origin, practice });
  }

  /** A value that was read is an answer; one in another unit counts as silence, at once. */
  #judge(values: readonly NamedValue[]): void {
    if (values.some(({ value }) => value.kind !== 'unreadable')) {
      this.#silence?.answered();
      this.#wait = waits.first;
      if (this.#status.state !== 'answering') this.#say('answering');
      return;
    }
    this.#silence?.heard();
    const wrong = values
      .map(({ value }) => value)
      .find((value) => value.kind === 'unreadable' && value.why === 'wrong-unit');
    if (wrong?.kind === 'unreadable') this.#say('silent', 'wrong-unit', wrong.detail);
  }
}
