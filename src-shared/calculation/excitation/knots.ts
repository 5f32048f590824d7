import type { Estimate } from '../../quantity/estimate.ts';
import type { Knot } from '../../quantity/monotone-curve.ts';

/** A point in logarithms, with the doubt of its own up the curve. */
export interface Dot {
  /** Its index among the points given. */
  readonly index: number;
  readonly x: number;
  readonly y: number;
  /** Relative standard uncertainty of y at its x, by the readings' own parts. */
  readonly own: number;
}

/** Which points make one knot, and with what weight; the weights of a knot add up to 1. */
export type Members = readonly { readonly index: number; readonly weight: number }[];

/** Points closer than so many of their own doubts cannot show the slope between them; and never less, or more, than so much. */
const dotsApart = 1.5;
const leastApart = 0.005;
const mostApart = 0.05;
/** Added to a point's doubt for its weight: no reading is so exact that the others count for nothing. */
const weightFloor = 1e-3;
/** Iron never takes more volts for less current: knots must rise, at least so steeply. */
const flattest = 0.2;

/**
 * Gathers points that lie so close together that the step between them is chance, then pools neighbours that do not rise
 * (the pool-adjacent-violators rule of isotonic regression: R. E. Barlow and others, Statistical Inference under Order
 * Restrictions, 1972). Which points go together is decided once, from the readings; a knot is then their weighted mean.
 */
export function gather(dots: readonly Dot[]): readonly Members[] {
  const sorted = dots.toSorted((a, b) => a.x - b.x || a.y - b.y || a.own - b.own);
  const heaps: Dot[][] = [];
  for (const dot of sorted) {
    const heap = heaps.at(-1);
    const first = heap?.[0];
    if (heap !== undefined && first !== undefined && dot.x - first.x < apart(first, dot)) heap.push(dot);
    else heaps.push([dot]);
  }
  return rising(heaps).map(membersOf);
}

function rising(heaps: readonly (readonly Dot[])[]): readonly (readonly Dot[])[] {
  const done: (readonly Dot[])[] = [];
  for (const heap of heaps) {
    let last = heap;
    for (;;) {
      const before = done.at(-1);
      if (before === undefined || isRising(middleOf(before), middleOf(last))) break;
      done.pop();
      last = [...before, ...last];
    }
    done.push(last);
  }
  return done;
}

const apart = (a: Dot, b: Dot) => Math.min(mostApart, Math.max(leastApart, dotsApart * Math.max(a.own, b.own)));
const isRising = (from: Knot, to: Knot) => to.x > from.x && to.y - from.y > flattest * (to.x - from.x);

const middleOf = (heap: readonly Dot[]): Knot =>
  knotOf(membersOf(heap), (index) => heap.find((dot) => dot.index === index));

function membersOf(heap: readonly Dot[]): Members {
  const raw = heap.map(({ own }) => 1 / (own ** 2 + weightFloor ** 2));
  const whole = raw.reduce((sum, weight) => sum + weight, 0);
  return heap.map(({ index }, k) => ({ index, weight: (raw[k] ?? 0) / whole }));
}

/** The knot that some points make. */
export function knotOf(members: Members, at: (index: number) => Knot | undefined): Knot {
  let [x, y] = [0, 0];
  for (const { index, weight } of members) {
    const place = at(index);
    x += weight * (place?.x ?? NaN);
    y += weight * (place?.y ?? NaN);
  }
  return { x, y };
}

/** Relative own standard uncertainty of a reading; a doubt that nobody knows is taken as 1 % where a weight needs one. */
export const ownDoubt = ({ value, u }: Estimate): number => (u === null ? 0.01 : u / Math.abs(value));
