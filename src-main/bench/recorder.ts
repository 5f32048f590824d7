import type { Push } from '../../src-shared/contract/push.ts';
import type { Judged } from '../../src-shared/meter/accuracy.ts';
import type { MeterReading } from '../../src-shared/meter/channel-reading.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { Run } from '../../src-shared/record/run.ts';
import { sinceStartMs } from '../../src-shared/record/run-time.ts';
import type { AcceptLog } from './accept-log.ts';
import type { BatchWriter } from './batch.ts';
import type { Clock } from './clock.ts';

/** A value that is about to be recorded: what the meter said, on which channel, and how far it can be trusted. */
export interface Heard {
  readonly reading: MeterReading;
  readonly channel: string;
  /** Null unless it is a number. */
  readonly judged: Judged | null;
  /** The range that the person locked; null while the meter chooses. */
  readonly lockedRange: number | null;
}

/** Takes what the guard let through into the open run: numbers it, hands it to the batch, and tells the pages. */
export class Recorder {
  readonly #batch: BatchWriter;
  readonly #clock: Clock;
  readonly #nextReadingId: () => number;
  readonly #push: (push: Push) => void;
  readonly #acceptLog: AcceptLog;

  constructor(parts: {
    batch: BatchWriter;
    clock: Clock;
    nextReadingId: () => number;
    push: (push: Push) => void;
    acceptLog: AcceptLog;
  }) {
    this.#batch = parts.batch;
    this.#clock = parts.clock;
    this.#nextReadingId = parts.nextReadingId;
    this.#push = parts.push;
    this.#acceptLog = parts.acceptLog;
  }

  /** Accepts one value. Null when the run has no such channel. */
  accept(run: Run, heard: Heard, tripped: boolean): Reading | null {
    const index = run.channels.findIndex(({ channel }) => channel === heard.channel);
    const channel = run.channels[index];
    if (channel === undefined) return null;
    const accepted = readingOf(run, index, heard, tripped, this.#nextReadingId());
    this.#batch.reading(accepted);
    this.#acceptLog(accepted.readingId, this.#clock.monoMs());
    this.#push({
      kind: 'readings',
      columns: [
        {
          runId: run.runId,
          channel: channel.channel,
          atMs: [accepted.atMs],
          kind: [accepted.kind],
          value: [accepted.value],
          u: [heard.judged?.u ?? null],
          unit: channel.unit,
          text: [accepted.text],
        },
      ],
    });
    return accepted;
  }
}

function readingOf(run: Run, channel: number, heard: Heard, tripped: boolean, readingId: number): Reading {
  const { reading, judged, lockedRange } = heard;
  const isNumber = reading.kind === 'number';
  const isJudged = judged?.kind === 'judged';
  return {
    readingId,
    runId: run.runId,
    channel,
    atMs: Math.max(0, sinceStartMs(run, reading.atMs)),
    wallMs: reading.wallMs,
    kind: reading.kind,
    value: isNumber ? reading.value : null,
    coupling: reading.kind === 'unreadable' ? null : (reading.coupling ?? null),
    resolution: isNumber ? reading.resolution : null,
    text: reading.text,
    origin: reading.origin,
    rangeIndex: isJudged ? judged.rangeIndex : null,
    rangeLocked: lockedRange !== null,
    tripped,
    bottomOfRange: isJudged && judged.bottomOfRange,
  };
}
