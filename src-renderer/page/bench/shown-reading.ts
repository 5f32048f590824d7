import type { MeterState } from '../../../src-shared/contract/meter-view.ts';
import type { ReadingKind, ReadingOrigin } from '../../../src-shared/record/reading.ts';
import type { Coupling } from '../../../src-shared/meter/unit.ts';
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
 * @param runStartMs - the start of that run on the program's clock
 * @param heard - what the channel's meter said last, whether recorded or not
 */
export function shownReading(
  isRecording: boolean,
  recorded: LiveReading | null,
  runStartMs: number,
  heard: MeterState['last'],
): ShownReading | null {
  if (!isRecording || recorded === null) return heard === null ? null : { ...heard, isRecorded: false };
  return {
    atMs: runStartMs + recorded.atMs,
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
