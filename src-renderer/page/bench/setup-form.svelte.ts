import * as v from 'valibot';
import type { ChannelChoice } from '../../../src-shared/contract/channel-choice.ts';
import type { RequestValue } from '../../../src-shared/contract/request.ts';

export type Meter = RequestValue<'app.present'>['meters'][number];

/** Who reads the two voltages. */
export type Way = 'two' | 'moved' | 'typed';

/** No meter chosen, and no range locked, as a select holds it. */
export const noMeter = 0;
export const notLocked = -1;

const Filled = v.strictObject({
  meterId: v.number(),
  range: v.number(),
  /** Which of the meter's values; empty for a meter of one. */
  value: v.string(),
});
type Filled = v.InferOutput<typeof Filled>;

/** The boxes of the form as a reload brings them back. */
export const PairBoxes = v.strictObject({
  way: v.picklist(['two', 'moved', 'typed']),
  filled: v.record(v.string(), Filled),
  extra: v.record(v.string(), v.number()),
});
export type PairBoxes = v.InferOutput<typeof PairBoxes>;

/** The values that stand on each line of a meter; none for a meter of one value. */
export const valueNames = (meter: Meter | undefined): readonly string[] =>
  meter?.description.kind === 'serial' ? meter.description.values.map(({ name }) => name) : [];

/** The a.c. volt ranges of a meter with their place in its description, lowest first. */
export const voltRanges = (meter: Meter | undefined) =>
  (meter?.description.ranges ?? [])
    .map((range, index) => ({ range, index }))
    .filter(({ range }) => range.unit === 'V' && range.coupling !== 'dc')
    .sort((a, b) => a.range.top - b.range.top);

/** Who fills the channels, as it stands in the form. */
export class SetUpForm {
  way = $state<Way>('two');
  readonly channels: readonly string[];
  filled = $state<Record<string, Filled>>({});
  /** Channels that may be left out, with the meter that reads them, or none. */
  readonly optional: readonly string[];
  extra = $state<Record<string, number>>({});
  refusals = $state.raw<Readonly<Record<string, string>>>({});

  /** @param was - the set-up that stands; empty when there is none */
  constructor(channels: readonly string[], optional: readonly string[], was: readonly ChannelChoice[]) {
    this.channels = channels;
    this.optional = optional;
    const found = (channel: string) => was.find((choice) => choice.channel === channel);
    this.filled = Object.fromEntries(
      channels.map((channel) => [
        channel,
        {
          meterId: found(channel)?.meterId ?? noMeter,
          range: found(channel)?.lockedRange ?? notLocked,
          value: found(channel)?.value ?? '',
        },
      ]),
    );
    this.extra = Object.fromEntries(optional.map((channel) => [channel, found(channel)?.meterId ?? noMeter]));
    const used = new Set(channels.map((channel) => `${found(channel)?.meterId} ${found(channel)?.value ?? ''}`));
    if (was.length > 0 && used.size === 1) this.way = 'moved';
  }

  snapshot(): PairBoxes {
    return $state.snapshot({ way: this.way, filled: this.filled, extra: this.extra });
  }

  restore({ way, filled, extra }: PairBoxes): void {
    this.way = way;
    Object.assign(this.filled, filled);
    Object.assign(this.extra, extra);
  }

  /** The channels that are chosen by themselves: one meter that is moved is chosen once, its range too. */
  get shown(): readonly string[] {
    return this.way === 'moved' ? this.channels.slice(0, 1) : this.channels;
  }

  /** Another meter has other ranges. */
  choose(channel: string, meterId: number): void {
    this.filled[channel] = { meterId, range: notLocked, value: '' };
  }

  /** The choices, or null with what is missing at its channel. */
  read(): ChannelChoice[] | null {
    const missing = this.shown.filter((channel) => (this.filled[channel]?.meterId ?? noMeter) === noMeter);
    this.refusals = Object.fromEntries(missing.map((channel) => [channel, 'Choose the meter that reads this.']));
    if (missing.length > 0) return null;
    const first = this.shown[0];
    const needed = this.channels.map((channel) => {
      const filled = this.filled[this.way === 'moved' && first !== undefined ? first : channel];
      const range = filled?.range ?? notLocked;
      return {
        channel,
        meterId: filled?.meterId ?? noMeter,
        lockedRange: range === notLocked ? null : range,
        ...(filled === undefined || filled.value === '' ? {} : { value: filled.value }),
      };
    });
    const besides = this.optional.flatMap((channel) => {
      const meterId = this.extra[channel] ?? noMeter;
      return meterId === noMeter ? [] : [{ channel, meterId, lockedRange: null }];
    });
    return [...needed, ...besides];
  }
}
