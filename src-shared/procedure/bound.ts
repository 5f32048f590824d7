import { classCelsius, insulationClasses } from '../calculation/insulation-class.ts';
import { withSupplyMargin } from '../interlock/bounds.ts';
import type { BenchFacts } from '../interlock/bench.ts';
import type { ChannelLimit, ProposedLimits } from '../interlock/limit.ts';
import { defaultLimits, voltsLimit, type DefaultLimits } from './default-limits.ts';
import { wordOf, type Answers, type Field } from './field.ts';

/** A proposed bound of one channel. `hard`: a rating stands behind it, so that nobody may loosen it further. */
export interface Bounded extends Partial<Omit<ChannelLimit, 'channel'>> {
  readonly channel: string;
  readonly hardMax?: number | null;
  readonly hardMin?: number | null;
}

/** Limits as a procedure proposes them, from its bounds and the times of its list. */
export function proposed(bounded: readonly Bounded[], times: DefaultLimits): ProposedLimits {
  return {
    limits: {
      ...times,
      channels: bounded.map(({ channel, min = null, max = null, warn = null, risePerMinute = null }) => ({
        channel,
        min,
        max,
        warn,
        risePerMinute,
      })),
    },
    ceilings: bounded.flatMap(({ channel, hardMax = null, hardMin = null }) =>
      hardMax === null && hardMin === null ? [] : [{ channel, lowestMin: hardMin, highestMax: hardMax }],
    ),
  };
}

/** The times of the list with this letter. */
export const timesOf = (list: keyof typeof defaultLimits): DefaultLimits => defaultLimits[list];

/** Volts up to nominal and 10 % (IEC 60038), which is also the hard bound; at low voltage never past the touch bound. */
export function fedBound(channel: string, bench: BenchFacts, touchVolts: number): Bounded {
  const max = voltsLimit(bench, bench.supply.volts, touchVolts);
  return { channel, max, hardMax: max };
}

/** The same with a lower bound of 10 % under nominal, for runs that stand or fall with steady line volts. */
export const steadyBound = (channel: string, bench: BenchFacts, touchVolts: number): Bounded => ({
  ...fedBound(channel, bench, touchVolts),
  min: bench.supply.volts * 0.9,
});

const most = (...amps: readonly (number | null)[]): number | null => {
  const known = amps.filter((one) => one !== null);
  return known.length === 0 ? null : Math.min(...known);
};

/**
 * Amps of the feed: `times` what is expected, at most 80 % of the breaker or fuse and no more than the source can give;
 * null while none of them is known. The fuse is the hard bound. Common practice, no source.
 */
export function ampsBound(channel: string, { supply }: BenchFacts, expected: number | null, times: number): Bounded {
  const { fuseAmps, ampsAtMost } = supply;
  const ofFuse = fuseAmps === undefined ? null : fuseAmps * 0.8;
  const max = most(expected === null ? null : expected * times, ofFuse, ampsAtMost ?? null);
  return { channel, max, hardMax: ofFuse };
}

/** What can be said of the insulation, for the limit of a heat run. */
export const insulationAsk: Field = {
  id: 'insulationClass',
  label: 'Class of the insulation',
  hint: 'The weakest part decides: wire, paper, tape. Not known: 75 °C warns, 90 °C trips.',
  required: true,
  kind: 'choice',
  options: [
    { value: 'unknown', label: 'Not known' },
    ...insulationClasses.map((letter) => ({ value: letter, label: `${letter}, ${classCelsius[letter]} °C` })),
  ],
};

/** From surface to hottest spot: common practice, no source. */
const hotSpotKelvin = 15;
const warnBelowClassKelvin = 30;
const unknownClass = { warn: 75, max: 90 };

/**
 * Surface temperatures for a class (IEC 60085): warn 30 K and trip 15 K under it; 75 and 90 °C when the class is not
 * known. Common practice, no source. In °C.
 */
export function surfaceLimits(answers: Answers): { readonly warn: number; readonly max: number } {
  const letter = insulationClasses.find((one) => one === wordOf(answers, 'insulationClass'));
  if (letter === undefined) return unknownClass;
  return { warn: classCelsius[letter] - warnBelowClassKelvin, max: classCelsius[letter] - hotSpotKelvin };
}

/** Rise in K a minute that is no ordinary warming: common practice, no source. */
const fastestRise = { core: 5, winding: 10 };

/** Temperature bounds of a long run. */
export const heatBounds = (answers: Answers): readonly Bounded[] => {
  const surface = surfaceLimits(answers);
  return [
    { channel: 'core-temperature', ...surface, risePerMinute: fastestRise.core },
    { channel: 'winding-temperature', ...surface, risePerMinute: fastestRise.winding },
  ];
};

/** Of the secondary: its volts and 10 %. */
export const outputBound = (channel: string, volts: number | null): Bounded =>
  volts === null ? { channel } : { channel, max: withSupplyMargin(volts) };
