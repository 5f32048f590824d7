import { formatNumber } from '../quantity/format.ts';
import { extent } from './axis-range.ts';
import type { Chart, Curve } from './chart.ts';
import { nearestPoint } from './interpolate.ts';
import { instantWords } from './ticks.ts';

/** What one curve shows, in figures. */
export interface CurveSummary {
  readonly id: string;
  readonly label: string;
  readonly first: string;
  readonly last: string;
  readonly lowest: string;
  readonly highest: string;
  readonly gaps: number;
}

/** A drawing as tables, for whoever cannot see it: what is drawn from its left edge to its right. */
export interface ChartTable {
  readonly curves: readonly CurveSummary[];
  /** The heads of the columns of `rows`: the x axis first, then the curves. */
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A place on the x axis, in words. */
export const placeWords = ({ xAxis, fromX, toX }: Pick<Chart, 'xAxis' | 'fromX' | 'toX'>, x: number): string =>
  xAxis.kind === 'time' ? instantWords(x, (toX - fromX) / 500) : `${formatNumber(x, 4)} ${xAxis.unit}`.trimEnd();

function summary(chart: Chart, { id, label, unit, x, y }: Curve): CurveSummary {
  const inside = x.flatMap((at, index) =>
    at >= chart.fromX && at <= chart.toX ? [{ at, value: y[index] ?? null }] : [],
  );
  const numbers = inside.flatMap(({ at, value }) => (value === null ? [] : [{ at, value }]));
  const written = (point: { readonly at: number; readonly value: number } | undefined) =>
    point === undefined ? 'none' : `${formatNumber(point.value, 5)} ${unit} at ${placeWords(chart, point.at)}`;
  const [low, high] = extent(numbers.map(({ value }) => value)) ?? [null, null];
  return {
    id,
    label,
    first: written(numbers[0]),
    last: written(numbers.at(-1)),
    lowest: written(numbers.find(({ value }) => value === low)),
    highest: written(numbers.find(({ value }) => value === high)),
    gaps: inside.length - numbers.length,
  };
}

const timeHead = (said: string | null): string => (said === null ? 'Since the start' : `Since the start, ${said}`);

/** The chart as tables; `rows` are at so many places, evenly apart, each with the nearest point of every curve. */
export function chartTable(chart: Chart, places: number): ChartTable {
  const span = chart.toX - chart.fromX;
  const step = span / Math.max(1, places - 1);
  const at = span > 0 ? Array.from({ length: places }, (_, index) => chart.fromX + index * step) : [chart.fromX];
  const head = chart.xAxis.kind === 'time' ? timeHead(chart.xAxis.said) : `${chart.xAxis.label} (${chart.xAxis.unit})`;
  return {
    curves: chart.curves.map((curve) => summary(chart, curve)),
    heads: [head, ...chart.curves.map(({ label, unit }) => `${label} (${unit})`)],
    rows: at.map((x) => [
      placeWords(chart, x),
      ...chart.curves.map((curve) => {
        const point = nearestPoint(curve, x, step / 2);
        return point === null ? '' : formatNumber(point.y, 5);
      }),
    ]),
  };
}
