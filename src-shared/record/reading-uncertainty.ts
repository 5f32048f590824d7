import { judge, type Judged } from '../meter/accuracy.ts';
import type { MeterDescription } from '../meter/description.ts';
import { meterUnits, type MeterUnit } from '../meter/unit.ts';
import type { Reading } from './reading.ts';
import type { RunChannel } from './run.ts';

type Judgeable = Pick<Reading, 'kind' | 'value' | 'coupling' | 'resolution' | 'rangeIndex'>;

const isMeterUnit = (unit: string): unit is MeterUnit => meterUnits.some((known) => known === unit);

/** A value at the very top of its range must not be lost to rounding. */
const within = (value: number, top: number): number =>
  Math.abs(value) > top && Math.abs(value) < top * (1 + 1e-9) ? Math.sign(value) * top : value;

/**
 * How far a recorded reading can be trusted by its meter's description as it was in the run, and the range on which the
 * reading was taken; null when it is no number or its range was not known. Ranges go by what the meter showed: before a
 * stated correction, its scale factor and the passes of the wire through its clamp.
 */
export function judgeRecorded(
  meterId: number,
  { kind, value, coupling, resolution, rangeIndex }: Judgeable,
  { unit, passes = 1 }: Pick<RunChannel, 'unit' | 'passes'>,
  description: Pick<MeterDescription, 'ranges' | 'scales' | 'corrections'>,
): Judged | null {
  if (kind !== 'number' || value === null || resolution === null || rangeIndex === null || !isMeterUnit(unit)) {
    return null;
  }
  const { ranges, scales, corrections } = description;
  const range = ranges[rangeIndex];
  if (range === undefined) return null;
  const scale = range.unit === unit ? undefined : scales.find((one) => one.unit === range.unit && one.becomes === unit);
  const correction = corrections?.find((one) => one.rangeIndex === rangeIndex)?.factor ?? 1;
  const ratio = (scale?.factor ?? 1) / passes;
  const uncorrected = value / correction;
  const shown = { value: within(uncorrected / ratio, range.top), unit: range.unit, resolution: resolution / ratio };
  const reading = { value: uncorrected, unit, resolution, ...(coupling === null ? {} : { coupling }), shown };
  return judge(meterId, description, reading, rangeIndex);
}

/** The standard uncertainty of a recorded reading in its unit; null when that is not known. */
export function readingUncertainty(
  reading: Judgeable,
  channel: Pick<RunChannel, 'unit' | 'passes'>,
  description: Pick<MeterDescription, 'ranges' | 'scales' | 'corrections'>,
): number | null {
  return judgeRecorded(0, reading, channel, description)?.u ?? null;
}
