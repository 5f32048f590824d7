import type { MeterState } from '../../../src-shared/contract/meter-view.ts';
import type { ReadingKind, ReadingOrigin } from '../../../src-shared/record/reading.ts';
import type { KeptValue } from '../../../src-shared/record/run.ts';
import type { Coupling } from '../../../src-shared/meter/unit.ts';
import { clockAtMs, type TimedRun } from '../../../src-shared/record/run-time.ts';
import type { LiveReading } from '../../state/live-readings.ts';

/** The reading a figure shows. `atMs` is on the program's clock. */
export interface ShownReading {
  readonly atMs: number;
  readonly kind: ReadingKind;
  readonly value: number | null;
  readonly u: number | null;
  readonly unit: string;
  readonly coupling: Coupling | null;
  readonly text: string;
  readonly origin: ReadingOrigin;
  readonly rangeIndex: number | null;
  readonly bottomOfRange: boolean;
  /** It is in the run. */
  readonly isRecorded: boolean;
}

/**
 * What the figure of a channel shows. While the run takes readings that is what the recorder accepted, so that screen and
 * file cannot disagree; otherwise what the meter said last, marked as not recorded.
 * @param recorded - the run's last reading on the channel
 * @param run - that run, which tells how its time goes against the program's clock; null when none is shown
 * @param heard - what the channel's meter said last, whether recorded or not
 * @param sinceMs - since when the run takes readings of this channel, on the program's clock: what was heard after that
 *   is in the run, also on a page that was loaded since
 */
export function shownReading(
  isRecording: boolean,
  recorded: LiveReading | null,
  run: TimedRun | null,
  heard: MeterState['last'],
  sinceMs = Infinity,
): ShownReading | null {
  if (!isRecording || recorded === null || run === null) {
    return heard === null ? null : { ...heard, isRecorded: isRecording && heard.atMs >= sinceMs };
  }
  return {
    atMs: clockAtMs(run, recorded.atMs),
    kind: recorded.kind,
    value: recorded.value,
    u: recorded.u,
    unit: recorded.unit,
    text: recorded.text,
    coupling: heard?.coupling ?? null,
    origin: heard?.origin ?? 'meter',
    rangeIndex: heard?.rangeIndex ?? null,
    bottomOfRange: heard?.bottomOfRange ?? false,
    isRecorded: true,
  };
}

/** With one meter that is moved: what was kept towards the next point on a channel that it has left; null when nothing. */
export function keptReading(towards: readonly KeptValue[], channel: string, atMs: number): ShownReading | null {
  const kept = towards.findLast((one) => one.channel === channel);
  if (kept === undefined) return null;
  const { value, u, unit } = kept;
  const place = { text: '', coupling: null, origin: 'meter', rangeIndex: null, bottomOfRange: false } as const;
  return { ...place, atMs, kind: 'number', value, u, unit, isRecorded: true };
}
