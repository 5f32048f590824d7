import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { caution, line, physical, worked, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, optional, plainNumber, text } from './field.ts';
import { propagate } from '../quantity/propagate.ts';

const input = group({
  reading: plainNumber({ label: 'Reading' }),
  percentOfReading: plainNumber({ label: 'Accuracy, % of the reading', unit: '%', atLeast: 0, atMost: 100 }),
  digits: plainNumber({ label: 'Accuracy, digits', atLeast: 0, atMost: 10_000 }),
  resolution: plainNumber({ label: 'One digit at the last place', above: 0 }),
  shape: optional(
    choice(['rectangular', 'normal'], {
      words: { rectangular: 'Limits (rectangular)', normal: 'k = 2 (normal)' },
      label: 'What the accuracy statement means',
      help: 'Rectangular: limits that are never passed, the usual case. Normal: stated with k = 2.',
    }),
    'rectangular',
  ),
  unit: optional(text({ label: 'Unit of the reading' })),
});

export interface MeterUncertaintyResults {
  /** Standard uncertainty of the reading. */
  readonly u: PhysicalResult;
  /** What the limits are made of, each in the reading's unit, and their sum. */
  readonly shares: { readonly ofReading: number; readonly digits: number; readonly sum: number };
  /** The reading as other calculations take it. */
  readonly estimate: { readonly value: number; readonly u: number; readonly shape: 'rectangular' | 'normal' };
}

const n = (value: number) => formatNumber(value, 6);

function run({ reading, percentOfReading, digits, resolution, shape, unit = '' }: v.InferOutput<typeof input>) {
  const ofReading = (Math.abs(reading) * percentOfReading) / 100;
  // A statement without digits leaves out the rounding of the display itself, half of its last place.
  const ofDigits = Math.max(digits, 0.5) * resolution;
  const halfWidth = ofReading + ofDigits;
  const divisor = shape === 'rectangular' ? Math.sqrt(3) : 2;
  const u = halfWidth / divisor;
  const results: MeterUncertaintyResults = {
    u: physical(
      unit,
      propagate({}, () => u),
    ),
    shares: { ofReading, digits: ofDigits, sum: halfWidth },
    estimate: { value: reading, u, shape },
  };
  const working = [
    line('a_r', '|reading| × %', `${n(Math.abs(reading))} × ${n(percentOfReading)} %`, ofReading, unit),
    line('a_d', 'digits × resolution', `${n(ofDigits / resolution)} × ${n(resolution)}`, ofDigits, unit),
    line('a', 'a_r + a_d', `${n(ofReading)} + ${n(ofDigits)}`, halfWidth, unit),
    shape === 'rectangular'
      ? line('u', 'a / sqrt(3)', `${n(halfWidth)} / sqrt(3)`, u, unit)
      : line('u', 'a / 2', `${n(halfWidth)} / 2`, u, unit),
  ];
  const rounding =
    digits < 0.5 ? [caution('display-rounding', 'Half a digit was taken for the rounding of the display itself.')] : [];
  return worked(results, working, rounding);
}

export const meterUncertainty = defineCalculation({
  name: 'meter-uncertainty',
  title: "A reading's uncertainty from the meter's accuracy",
  version: 1,
  sources: ['JCGM 100:2008 (GUM), 4.3.7 for limits, 4.3.3 for a stated k, 5.1.5 for a multimeter'],
  input,
  example: { reading: 118.4, percentOfReading: 0.8, digits: 5, resolution: 0.1, unit: 'V' },
  run,
});
