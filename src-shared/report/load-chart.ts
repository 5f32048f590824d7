import * as v from 'valibot';
import type { Chart } from '../chart/chart.ts';
import { formatEstimate } from '../quantity/format.ts';
import type { Result } from '../record/run.ts';
import { KeptQuantity } from './read-answer.ts';

const number = v.pipe(v.number(), v.finite());
const Measured = v.union([number, v.looseObject({ value: number })]);
const plain = (measured: v.InferOutput<typeof Measured>): number =>
  typeof measured === 'number' ? measured : measured.value;

const Loaded = v.looseObject({
  input: v.looseObject({
    points: v.array(v.looseObject({ amps: Measured, volts: Measured, primaryVolts: v.optional(Measured) })),
    referenceVolts: v.optional(number),
  }),
  output: v.looseObject({
    results: v.looseObject({ openCircuitVolts: KeptQuantity, outputResistance: KeptQuantity }),
  }),
});

/**
 * A kept loaded run: its points with the sag of the line taken out as the calculation does, and the straight line through
 * them. Null when the result is not one, or cannot be drawn.
 */
export function loadChart(result: Result): Chart | null {
  const read = v.safeParse(Loaded, result);
  if (result.calculation !== 'loaded-run' || !read.success) return null;
  const { points, referenceVolts } = read.output.input;
  const { openCircuitVolts, outputResistance } = read.output.output.results;
  const places = points
    .map(({ amps, volts, primaryVolts }) => {
      const factor =
        referenceVolts === undefined || primaryVolts === undefined ? 1 : referenceVolts / plain(primaryVolts);
      return { x: plain(amps), y: plain(volts) * factor };
    })
    .sort((one, other) => one.x - other.x);
  const toX = Math.max(...places.map(({ x }) => x)) * 1.05;
  if (!(toX > 0)) return null;
  const at = (amps: number) => openCircuitVolts.value - outputResistance.value * amps;
  return {
    title: 'Output volts under load',
    xAxis: { kind: 'quantity', label: 'Load amps', unit: 'A' },
    fromX: 0,
    toX,
    curves: [
      {
        id: 'line',
        label: `Falls ${formatEstimate({ ...outputResistance, unit: 'V' })} for each ampere`,
        unit: 'V',
        ink: 'copper',
        dash: 'dotted',
        form: 'line',
        x: [0, toX],
        y: [at(0), at(toX)],
      },
      {
        id: 'points',
        label: 'Readings',
        unit: 'V',
        ink: 'copper',
        dash: 'solid',
        form: 'points',
        x: places.map(({ x }) => x),
        y: places.map(({ y }) => y),
      },
    ],
    bands: [],
    levels: [],
    marks: [],
  };
}
