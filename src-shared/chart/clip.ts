import type { Chart, Curve } from './chart.ts';
import { lastAtOrBelow } from './interpolate.ts';

/** The curve between two places, with one point more on each side so that its line goes to the edge. */
function between(curve: Curve, from: number, to: number): Curve {
  const first = Math.max(0, lastAtOrBelow(curve.x, from));
  const last = lastAtOrBelow(curve.x, to) + 2;
  return first === 0 && last >= curve.x.length
    ? curve
    : { ...curve, x: curve.x.slice(first, last), y: curve.y.slice(first, last) };
}

/** The chart on another stretch of its x axis: curves cut to it, everything else as it is. */
export const onRange = (chart: Chart, from: number, to: number): Chart => ({
  ...chart,
  fromX: from,
  toX: to,
  curves: chart.curves.map((curve) => between(curve, from, to)),
});
