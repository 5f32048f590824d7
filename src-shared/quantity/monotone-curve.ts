/** A point that a curve goes through. */
export interface Knot {
  readonly x: number;
  readonly y: number;
}

/** A smooth increasing curve through increasing knots; beyond them it goes on straight, at the slope that it ends with. */
export interface MonotoneCurve {
  readonly knots: readonly Knot[];
  /** Of the curve at each knot. */
  readonly slopes: readonly number[];
  readonly at: (x: number) => number;
  /** Which interval `x` lies in: k between knots k and k + 1, −1 below the first, the number of intervals above the last. */
  readonly intervalOf: (x: number) => number;
}

/** Most that a slope may be of the lesser chord beside it, for the cubic to stay monotone (Fritsch and Carlson). */
const steepest = 3;

/**
 * Cubic Hermite interpolation through knots with increasing x and y: F. N. Fritsch and R. E. Carlson, Monotone piecewise
 * cubic interpolation, SIAM Journal on Numerical Analysis 17, 1980, 238. The slope at a knot is that of the parabola
 * through it and its neighbours, held between 0 and three times the lesser chord, so that nothing swings between knots.
 * Two knots make a straight line; fewer are a mistake of the caller.
 */
export function monotoneCurve(knots: readonly Knot[]): MonotoneCurve {
  if (knots.length < 2) throw new Error('A curve needs two knots.');
  const slopes = slopesAt(knots);
  const last = knots.length - 1;
  const intervalOf = (x: number) => {
    let [low, high] = [-1, last];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((knots[middle]?.x ?? Infinity) <= x) low = middle;
      else high = middle - 1;
    }
    // The last knot belongs to the interval before it.
    return low === last && x <= (knots[last]?.x ?? NaN) ? last - 1 : low;
  };
  const at = (x: number) => {
    const k = intervalOf(x);
    const [from, slope] = [knots[Math.max(k, 0)], slopes[Math.max(k, 0)]];
    const [to, slopeTo] = [knots[k + 1], slopes[k + 1]];
    if (from === undefined || slope === undefined) return NaN;
    if (k < 0 || to === undefined || slopeTo === undefined) return from.y + slope * (x - from.x);
    const h = to.x - from.x;
    const t = (x - from.x) / h;
    const rise = to.y - from.y;
    return from.y + rise * t * t * (3 - 2 * t) + h * t * (1 - t) * (slope * (1 - t) - slopeTo * t);
  };
  return { knots, slopes, at, intervalOf };
}

function slopesAt(knots: readonly Knot[]): number[] {
  const steps = knots.slice(1).map(({ x, y }, k) => {
    const before = knots[k] ?? { x, y };
    return { h: x - before.x, chord: (y - before.y) / (x - before.x) };
  });
  const held = (slope: number, ...chords: readonly number[]) =>
    Math.max(0, Math.min(slope, ...chords.map((chord) => steepest * chord)));
  return knots.map((_, k) => {
    const [before, after] = [steps[k - 1], steps[k]];
    if (before !== undefined && after !== undefined) {
      const parabola = (after.h * before.chord + before.h * after.chord) / (before.h + after.h);
      return held(parabola, before.chord, after.chord);
    }
    const [near, far] = after === undefined ? [before, steps[k - 2]] : [after, steps[k + 1]];
    if (near === undefined) return 0;
    if (far === undefined) return near.chord;
    return held(near.chord + ((near.chord - far.chord) * near.h) / (near.h + far.h), near.chord);
  });
}
