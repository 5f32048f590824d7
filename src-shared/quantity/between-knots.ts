import { monotoneCurve, type MonotoneCurve } from './monotone-curve.ts';

/**
 * How far the truth may lie off a monotone curve where nothing was measured: half widths, every place within them equally
 * likely. They are 0 at the knots.
 */
export interface Allowance {
  /** Number of places with a doubt of their own: one an interval, and one beyond each end. */
  readonly places: number;
  /** Which of them `x` lies in. */
  readonly placeOf: (x: number) => number;
  readonly halfWidth: (x: number) => number;
}

/**
 * The error of the interpolation shrinks with the third power of the spacing, so what leaving out a knot shows of it over
 * two intervals is an eighth of that over one; taken twice, since a curve seldom bends evenly.
 */
const order = 3;
const caution = 2;
/** What is missed may happen to be little where the curve bends much: of its bend within an interval, at least so much. */
const leastOfBend = 0.1;
/** The same in the first and last interval, where the slope is known from one side only. */
const leastOfBendAtEnd = 0.25;
/** With three knots the one in the middle can only be held against a straight line, which is one order less. */
const orderOfLine = 2;
/** With two knots nothing is seen of the bend: the slope may change threefold from end to end. */
const unseenBend = 1 / 8;
/** Beyond the ends the slope may differ by a quarter, and by twice what it changed within the last interval. */
const slopeDoubt = 1 / 4;
const slopeDoubtOfLine = 1 / 2;
const changeDoubt = 2;

/**
 * The allowance for what lies between and beyond the knots of a curve, from leaving out one knot after the other and
 * seeing by how much the rest misses it: cross-validation with the step of Richardson's extrapolation (C. de Boor, A
 * Practical Guide to Splines, ch. IV, for the order of the error). The factors are our own, held against known curves in
 * the tests.
 */
export function allowanceOf(curve: MonotoneCurve): Allowance {
  const { knots, slopes, intervalOf } = curve;
  const widths = knots.slice(1).map(({ x }, k) => x - (knots[k]?.x ?? NaN));
  const misses = knots.map((knot, k) =>
    k === 0 || k === knots.length - 1 ? 0 : Math.abs(knot.y - monotoneCurve(knots.toSpliced(k, 1)).at(knot.x)),
  );
  const power = knots.length === 3 ? orderOfLine : order;
  const heights = widths.map((h, k) => {
    if (knots.length === 2) return h * (slopes[0] ?? NaN) * unseenBend;
    const seen = [k - 1, k, k + 1, k + 2].map((j) => {
      const both = (widths[j - 1] ?? NaN) + (widths[j] ?? NaN);
      return Number.isNaN(both) ? 0 : (misses[j] ?? 0) * Math.min(1, h / both) ** power;
    });
    // The cubic's middle lies off the chord's by an eighth of the interval times the change of slope.
    const bend = (h * Math.abs((slopes[k + 1] ?? NaN) - (slopes[k] ?? NaN))) / 8;
    const least = k === 0 || k === widths.length - 1 ? leastOfBendAtEnd : leastOfBend;
    return Math.max(caution * Math.max(...seen), least * bend);
  });
  const end = (at: 'first' | 'last') => {
    const [k, j] = at === 'first' ? [0, 0] : [knots.length - 1, widths.length - 1];
    const [knot, slope, h] = [knots[k], slopes[k] ?? NaN, widths[j] ?? NaN];
    const chord = ((knots[j + 1]?.y ?? NaN) - (knots[j]?.y ?? NaN)) / h;
    return { x: knot?.x ?? NaN, slope, change: Math.abs(slope - chord), h };
  };
  const beyond = (x: number, { x: from, slope, change, h }: ReturnType<typeof end>) => {
    const far = Math.abs(x - from);
    const doubt = (knots.length === 2 ? slopeDoubtOfLine : slopeDoubt) * slope;
    return far * (doubt + changeDoubt * change * (1 + far / h));
  };
  const [first, last] = [end('first'), end('last')];
  const halfWidth = (x: number) => {
    const k = intervalOf(x);
    const [from, h, height] = [knots[k], widths[k], heights[k]];
    if (k < 0) return beyond(x, first);
    if (from === undefined || h === undefined || height === undefined) return beyond(x, last);
    const t = (x - from.x) / h;
    return height * 4 * t * (1 - t);
  };
  return { places: widths.length + 2, placeOf: (x) => intervalOf(x) + 1, halfWidth };
}
