import type { RunFacts } from './run-facts.ts';

/** Units whose zero means nothing there: sizes can be told apart by it. */
const fromZero: readonly string[] = ['V', 'A', 'W', 'Ω'];
/** A channel this many times smaller than another of its unit would lie flat at the bottom of one axis with it. */
const timesSmaller = 5;

/**
 * The channels of a run that have an axis of their own, with its name: those that are far smaller than the largest of
 * their unit, such as a test coil's volts beside the primary's. Channels of a like size stay together.
 */
export function channelLanes({ run, counts }: Pick<RunFacts, 'run' | 'counts'>): ReadonlyMap<string, string> {
  const sizes = run.channels.map(({ channel, unit }, index) => {
    const { lowest = null, highest = null } = counts[index] ?? {};
    return { channel, unit, size: Math.max(Math.abs(lowest ?? 0), Math.abs(highest ?? 0)) };
  });
  const lanes = new Map<string, string>();
  for (const unit of fromZero) {
    const ordered = sizes
      .filter((one) => one.unit === unit && one.size > 0)
      .toSorted((one, other) => other.size - one.size);
    let top = ordered[0]?.size ?? 0;
    let lane: string | null = null;
    for (const { channel, size } of ordered) {
      if (size * timesSmaller < top) {
        lane = `${unit} ${channel}`;
        top = size;
      }
      if (lane !== null) lanes.set(channel, lane);
    }
  }
  return lanes;
}
