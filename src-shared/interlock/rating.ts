import { bounds, withSupplyMargin } from './bounds.ts';
import type { ChannelFacts, SetUp } from './bench.ts';

/** Why a meter may not fill a channel. Volts are what its inputs would have to stand. */
export type RatingRefusal =
  | {
      readonly code: 'meter-unrated';
      readonly channel: string;
      readonly meter: string;
      readonly maxVolts: number | null;
      readonly neededVolts: number;
    }
  | { readonly code: 'winding-unknown'; readonly channel: string; readonly meter: string }
  | { readonly code: 'category-missing'; readonly channel: string; readonly meter: string }
  | {
      readonly code: 'link-not-isolated';
      readonly channel: string;
      readonly meter: string;
      readonly isolated: 'no' | 'not-known';
      /** Null: the channel is joined to the mains, whatever its volts. */
      readonly volts: number | null;
    };

/** The volts that a meter must be rated for on a channel: supply +10 %, and the peak where a peak is measured. */
const neededVolts = (channel: ChannelFacts): number | null =>
  channel.volts === null ? null : withSupplyMargin(channel.volts) * (channel.peak ? Math.SQRT2 : 1);

/**
 * Why the meter of a channel is refused there; null when it is not, or when none is bound. An unknown winding takes no
 * ordinary meter at all. Principle: IEC 61010-1, IEC 61010-2-033 (meters), GS38; the 10 % is common practice.
 */
export function rateChannel(channel: ChannelFacts): RatingRefusal | null {
  const { meter } = channel;
  if (meter === null) return null;
  const at = { channel: channel.label, meter: meter.label };
  const needed = neededVolts(channel);
  if (needed === null) return { code: 'winding-unknown', ...at };
  if (needed > 0 && (meter.maxVolts === null || meter.maxVolts < needed)) {
    return { code: 'meter-unrated', ...at, maxVolts: meter.maxVolts, neededVolts: needed };
  }
  if (channel.joinedToMains && (meter.category === 'none' || meter.category === 'not-known')) {
    return { code: 'category-missing', ...at };
  }
  if (meter.linkIsolated === 'no' || meter.linkIsolated === 'not-known') {
    const isolated = meter.linkIsolated;
    if (channel.joinedToMains) return { code: 'link-not-isolated', ...at, isolated, volts: null };
    const volts = channel.volts ?? 0;
    if (volts > bounds.touchVolts.preset) return { code: 'link-not-isolated', ...at, isolated, volts };
  }
  return null;
}

/** The first reason for which a set-up's meters are refused; null when all of them fit. */
export function rateSetUp(setUp: SetUp): RatingRefusal | null {
  for (const channel of setUp.channels) {
    const refusal = rateChannel(channel);
    if (refusal !== null) return refusal;
  }
  return null;
}
