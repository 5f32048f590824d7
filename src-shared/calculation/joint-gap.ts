import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured } from './field.ts';

const input = group({
  turns: measured({ label: 'Turns that carry the current', above: 0 }),
  addedAmps: measured({
    label: 'Added magnetising current, r.m.s.',
    unit: 'A',
    atLeast: 0,
    help: 'At the same volts: after the joint was made again, less before.',
  }),
  peakTesla: measured({ label: 'Peak flux density', unit: 'T', above: 0 }),
});

export interface JointGapResults {
  /** All gaps along one line of flux, added up. */
  readonly gapMm: PhysicalResult;
}

/** H/m; the 2018 value differs from this by less than one part in a thousand million. */
const mu0 = 4e-7 * Math.PI;
const mmPerMetre = 1000;

function run(given: v.InferOutput<typeof input>) {
  const gap = propagate(
    given,
    ({ turns, addedAmps, peakTesla }) => (mmPerMetre * mu0 * turns * addedAmps * Math.SQRT2) / peakTesla,
  );
  const results: JointGapResults = { gapMm: physical('mm', gap) };
  const n = (value: number) => formatNumber(value, 6);
  const { turns, addedAmps, peakTesla } = given;
  const numbers = `4π × 10⁻⁷ × ${n(turns.value)} × ${n(addedAmps.value)} × √2 / ${n(peakTesla.value)} × 1000`;
  return worked(
    results,
    [line('g', 'µ0 N ΔI √2 / B', numbers, gap.value, 'mm')],
    [
      caution(
        'sum-of-gaps',
        'All gaps along one line of flux together: one joint of two that are alike has half of it.',
      ),
      caution(
        'sine-assumed',
        'The added current of a gap is a sine; the iron’s own, peaky part must be the same before and after.',
      ),
    ],
  );
}

export const jointGap = defineCalculation({
  name: 'joint-gap',
  title: 'The gap that a joint has added',
  version: 1,
  sources: ['Ampère’s law round the core, without fringing: Fitzgerald, Kingsley and Umans, Electric Machinery, ch. 1'],
  input,
  example: { turns: 120, addedAmps: { value: 0.5, u: 0.02 }, peakTesla: { value: 1.5, u: 0.05 } },
  run,
});
