import type { RequestValue } from '../../../src-shared/contract/request.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { writtenParts } from '../../../src-shared/quantity/written-parts.ts';
import { ageWords, meterDigits, shownIn } from './reading-words.ts';
import type { ShownReading } from './shown-reading.ts';

export type BenchMeter = RequestValue<'app.present'>['meters'][number];

/** What the figure of a channel shows, and how its meter stands. */
export interface FigureView {
  /** The digits, or the word that stands for them. */
  readonly figure: string;
  /** What the digits count: kΩ and MΩ where ohms would be many digits. */
  readonly unit: string;
  /** `± 0.012 Ω`; or that it is not known. */
  readonly doubt: string;
  readonly isNumber: boolean;
  readonly mark: 'well' | 'waiting' | 'bad';
  /** `typed 5 s ago`; empty before the first reading. */
  readonly age: string;
}

const markOf = (meter: BenchMeter | null, isTyped: boolean): FigureView['mark'] => {
  // Of a meter that is read by eye the line does not count.
  if (meter !== null && isTyped) return 'well';
  const status = meter?.state.status ?? 'off';
  if (status === 'answering' || status === 'keyboard') return 'well';
  return status === 'connecting' ? 'waiting' : 'bad';
};

function figureOf(reading: ShownReading | null, meter: BenchMeter | null, factor: number): string {
  if (reading === null) return '– – –';
  if (reading.kind === 'overload') return 'over range';
  if (reading.kind === 'unreadable' || reading.value === null) return 'not readable';
  const range = reading.rangeIndex === null ? undefined : meter?.description.ranges[reading.rangeIndex];
  const value = reading.value / factor;
  if (range === undefined && reading.u !== null)
    return writtenParts({ value, u: reading.u / factor, unit: reading.unit }).value;
  return meterDigits(value, range === undefined ? null : range.resolution / factor);
}

/** @param isTyped - its values are typed, by what it is or because somebody reads it */
export function figureView(
  reading: ShownReading | null,
  meter: BenchMeter | null,
  nowMs: number,
  isTyped: boolean,
): FigureView {
  const { unit, factor } = shownIn(reading?.unit ?? '', reading?.value ?? 0);
  const u = reading?.u ?? null;
  return {
    figure: figureOf(reading, meter, factor),
    unit,
    doubt: u === null ? '± not known' : `± ${formatNumber(u / factor, 2)} ${unit}`,
    isNumber: reading?.kind === 'number',
    mark: markOf(meter, isTyped),
    age: reading === null ? '' : `${reading.origin === 'keyboard' ? 'typed ' : ''}${ageWords(nowMs - reading.atMs)}`,
  };
}
