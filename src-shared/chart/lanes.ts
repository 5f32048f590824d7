import { axisRange } from './axis-range.ts';
import type { Chart } from './chart.ts';
import { valueTicks, type Ticks } from './ticks.ts';

/**
 * One of the strips that a drawing is divided into, below each other over the same x: each has one unit and its own
 * axis, so that curves of unlike size lie apart. `top` and `bottom` are shares of the height, from the top.
 */
export interface Lane {
  readonly name: string;
  readonly unit: string;
  readonly top: number;
  readonly bottom: number;
  /** The values at the bottom and at the top. */
  readonly low: number;
  readonly high: number;
}

/** Names the lane that something is drawn in: its unit, where it has none of its own. */
export const laneOf = ({ lane, unit }: { readonly lane?: string; readonly unit: string }): string => lane ?? unit;

/** How much taller the first lane is than the others. */
const firstWeight = 1.7;
/** The part of the height that stays free between two lanes. */
const between = 0.035;

/** The lanes of a chart from the top, in the order of its curves. */
export function lanesOf(chart: Pick<Chart, 'curves' | 'bands' | 'levels'>): readonly Lane[] {
  const units = new Map<string, string>();
  for (const drawn of [...chart.curves, ...chart.bands, ...chart.levels]) units.set(laneOf(drawn), drawn.unit);
  const names = [...units.keys()];
  const isApart = chart.curves.some(({ lane }) => lane !== undefined);
  const weights = names.map((_, nth) => (nth === 0 && !isApart ? firstWeight : 1));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const room = 1 - between * (names.length - 1);
  let top = 0;
  return names.map((name, nth) => {
    const height = (room * (weights[nth] ?? 1)) / all;
    const unit = units.get(name) ?? '';
    const isHere = (drawn: { readonly lane?: string; readonly unit: string }) => laneOf(drawn) === name;
    const { curves, bands, levels } = chart;
    const here = { curves: curves.filter(isHere), bands: bands.filter(isHere), levels: levels.filter(isHere) };
    const [low, high] = axisRange(here);
    const lane = { name, unit, top, bottom: top + height, low, high };
    top += height + between;
    return lane;
  });
}

/** Height of a level's word over its line; under it where the lane has no room above. */
export const wordHeight = (at: number, top: number, bottom: number): number =>
  Math.min(bottom - 3, at - 5 < top + 10 ? Math.max(top, at) + 14 : at - 5);

/** Where a value lies in its lane, as a share of the whole height from the top; outside the lane's ends when it is. */
export const shareOf = ({ top, bottom, low, high }: Lane, value: number): number =>
  bottom - ((value - low) / (high - low)) * (bottom - top);

/** Words nearer to each other than this many pixels run into each other. */
const wordPixels = 16;

/** The marks of a lane that is so many pixels high: two at least, since one tells no scale; the outermost where no more fit. */
export function laneTicks({ low, high }: Lane, pixels: number): Ticks {
  const wanted = Math.max(3, Math.floor(pixels / 36));
  const few = valueTicks(low, high, wanted);
  const { at, words } = few.at.length > 1 ? few : valueTicks(low, high, 2 * wanted);
  if (at.length < 3 || pixels / (at.length - 1) >= wordPixels) return { at, words };
  const ends = (index: number) => index === 0 || index === at.length - 1;
  return { at: at.filter((_, index) => ends(index)), words: words.filter((_, index) => ends(index)) };
}

/**
 * What the whole height is worth on a lane's own scale, from bottom to top: its values continued over all other lanes.
 */
export function wholeRange({ top, bottom, low, high }: Lane): readonly [number, number] {
  const perShare = (high - low) / (bottom - top);
  return [low - (1 - bottom) * perShare, high + top * perShare];
}
