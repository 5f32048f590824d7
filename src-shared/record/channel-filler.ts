import type { ChannelFiller, RunChannel, TakeOver } from './run.ts';

/** Who read a channel from an instant of the run on, in ms since its start. */
export type FillerFrom = ChannelFiller & Pick<TakeOver, 'fromMs' | 'byEye'>;

/** Everybody who read a channel of a run, in order; the first from its start. */
export const fillersOf = ({
  channel: _channel,
  unit: _unit,
  takenOver = [],
  ...first
}: RunChannel): readonly FillerFrom[] => [{ ...first, fromMs: -Infinity }, ...takenOver];

/** Who reads a channel now. */
export const lastFiller = (channel: RunChannel): FillerFrom =>
  fillersOf(channel).at(-1) ?? { ...channel, fromMs: -Infinity };

/** Who read a channel at an instant of the run. */
export function fillerAt(channel: RunChannel, atMs: number): FillerFrom {
  // Asked for every reading: most channels had one reader all along.
  if (channel.takenOver === undefined) return { ...channel, fromMs: -Infinity };
  return fillersOf(channel).findLast(({ fromMs }) => atMs >= fromMs) ?? { ...channel, fromMs: -Infinity };
}

/** Before the reading that may have come at the very instant. */
const justBeforeMs = 0.001;

/** A curve with a gap where another reader took its channel over: what two meters say is not joined by a line. */
export function withGapsAt(
  x: readonly number[],
  y: readonly (number | null)[],
  instants: readonly number[],
): { readonly x: readonly number[]; readonly y: readonly (number | null)[] } {
  const inside = instants.filter((at) => x.length > 0 && at > (x[0] ?? 0) && at <= (x.at(-1) ?? 0));
  if (inside.length === 0) return { x, y };
  const gapped: { x: number[]; y: (number | null)[] } = { x: [], y: [] };
  let next = 0;
  x.forEach((at, index) => {
    for (let gap = inside[next]; gap !== undefined && gap <= at; gap = inside[++next]) {
      gapped.x.push(gap - justBeforeMs);
      gapped.y.push(null);
    }
    gapped.x.push(at);
    gapped.y.push(y[index] ?? null);
  });
  return gapped;
}
