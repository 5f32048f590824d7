import * as v from 'valibot';
import type { Chart, Curve } from '../chart/chart.ts';
import { formatEstimate, formatNumber } from '../quantity/format.ts';
import type { Result } from '../record/run.ts';
import { KeptQuantity } from './read-answer.ts';

const number = v.pipe(v.number(), v.finite());
const Measured = v.union([number, v.looseObject({ value: number })]);
const plain = (measured: v.InferOutput<typeof Measured>): number =>
  typeof measured === 'number' ? measured : measured.value;

const ExcitationInput = v.looseObject({
  primaryTurns: Measured,
  points: v.array(v.looseObject({ volts: Measured, amps: Measured, turns: v.optional(Measured) })),
});
const ExcitationOutput = v.looseObject({
  results: v.looseObject({
    curve: v.array(v.looseObject({ ampereTurns: Measured, voltsPerTurn: Measured })),
    /** Volts per turn and ampere-turns in turn. */
    drawn: v.optional(v.array(number), []),
    knee: v.nullish(KeptQuantity),
    offCurve: v.nullish(v.array(number), []),
  }),
});

interface Place {
  readonly x: number;
  readonly y: number;
}

const curveOf = (
  id: string,
  label: string,
  form: Curve['form'],
  ink: Curve['ink'],
  places: readonly Place[],
): Curve => {
  const sorted = places.toSorted((one, other) => one.x - other.x);
  return {
    id,
    label,
    unit: 'V/turn',
    ink,
    dash: 'solid',
    form,
    x: sorted.map(({ x }) => x),
    y: sorted.map(({ y }) => y),
  };
};

/**
 * A kept excitation curve: induced volts per turn against ampere-turns, the points it goes through, those that do not
 * fall on it, and the knee as a level and at its place. Null when the result is not one, or cannot be drawn.
 */
export function excitationChart(result: Result): Chart | null {
  if (result.calculation !== 'excitation') return null;
  const input = v.safeParse(ExcitationInput, result.input);
  const output = v.safeParse(ExcitationOutput, result.output);
  if (!input.success || !output.success) return null;
  const turns = plain(input.output.primaryTurns);
  const { curve, drawn, knee, offCurve } = output.output.results;
  const points = curve.map(({ ampereTurns, voltsPerTurn }) => ({ x: plain(ampereTurns), y: plain(voltsPerTurn) }));
  const between = Array.from({ length: Math.floor(drawn.length / 2) }, (_, nth) => ({
    x: drawn[2 * nth + 1] ?? 0,
    y: drawn[2 * nth] ?? 0,
  }));
  const off = (offCurve ?? []).flatMap((index) => {
    const point = input.output.points[index];
    if (point === undefined) return [];
    const own = point.turns === undefined ? turns : plain(point.turns);
    return [{ x: plain(point.amps) * own, y: plain(point.volts) / own }];
  });
  if (points.length === 0 || !(turns > 0)) return null;

  const line = curveOf('curve', 'Induced volts per turn', 'line', 'steel', between.length > 1 ? between : points);
  const kneeVolts = knee === null || knee === undefined ? null : knee.value / turns;
  const kneeAt = kneeVolts === null ? null : crossing(line, kneeVolts);
  return {
    title: 'Excitation curve of the core',
    xAxis: { kind: 'quantity', label: 'Ampere-turns', unit: 'A' },
    fromX: 0,
    toX: Math.max(...[...points, ...off].map(({ x }) => x), line.x.at(-1) ?? 0) * 1.05,
    curves: [
      line,
      curveOf('points', 'Points', 'points', 'steel', points),
      ...(off.length === 0 ? [] : [curveOf('off', 'Points off the curve', 'points', 'ink', off)]),
    ],
    bands: [],
    levels:
      knee === null || knee === undefined || kneeVolts === null
        ? []
        : [
            {
              kind: 'value',
              unit: 'V/turn',
              value: kneeVolts,
              word: `knee at ${formatEstimate(knee)} on ${formatNumber(turns, 5)} turns`,
              fromX: null,
              toX: null,
            },
          ],
    marks: kneeAt === null ? [] : [{ kind: 'point', x: kneeAt, word: 'knee' }],
  };
}

/** Where a rising curve passes a value, between its points; null when it does not. */
function crossing({ x, y }: Curve, at: number): number | null {
  for (const [index, to] of y.entries()) {
    const [from = null, fromX = 0, toX = 0] = [y[index - 1], x[index - 1], x[index]];
    if (from === null || to === null || !(from <= at && at <= to) || to === from) continue;
    return fromX + ((toX - fromX) * (at - from)) / (to - from);
  }
  return null;
}
