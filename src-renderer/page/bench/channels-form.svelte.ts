import * as v from 'valibot';
import type { ChannelChoice } from '../../../src-shared/contract/channel-choice.ts';
import type { ProcedureChannel } from '../../../src-shared/procedure/procedure.ts';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';
import { notLocked, type Meter } from './setup-form.svelte.ts';

/** Nobody reads a channel. */
export const nobody = '';

/** A meter, or one of the values on its line, that may read a channel. */
interface Reader {
  /** The meter's number and, where it sends several values, the name of one. */
  readonly key: string;
  readonly label: string;
}

const Filled = v.strictObject({ reader: v.string(), range: v.number(), passes: v.string() });
type Filled = v.InferOutput<typeof Filled>;

/** The boxes of the form as a reload brings them back. */
export const ChannelBoxes = v.strictObject({ filled: v.record(v.string(), Filled), isMoved: v.boolean() });
export type ChannelBoxes = v.InferOutput<typeof ChannelBoxes>;

const keyOf = (meterId: number, value: string | undefined): string =>
  value === undefined ? String(meterId) : `${meterId}/${value}`;

/** Who may read this channel: meters with a range of its unit, and those whose ranges are not described. */
export function readersOf(meters: readonly Meter[], { unit }: ProcedureChannel): readonly Reader[] {
  return meters.flatMap(({ meterId, description }) => {
    const { ranges, scales, label } = description;
    const reads =
      ranges.length === 0 ||
      ranges.some(
        (range) => range.unit === unit || scales.some((scale) => scale.unit === range.unit && scale.becomes === unit),
      );
    if (!reads) return [];
    const values = description.kind === 'serial' ? description.values : [];
    return values.length === 0
      ? [{ key: keyOf(meterId, undefined), label }]
      : values.map(({ name }) => ({ key: keyOf(meterId, name), label: `${label}: ${name}` }));
  });
}

/** Ranges of a reader for this channel with their place in the meter's description, lowest first. */
export const rangesFor = (meters: readonly Meter[], reader: string, { unit, coupling }: ProcedureChannel) =>
  (meters.find(({ meterId }) => String(meterId) === reader.split('/')[0])?.description.ranges ?? [])
    .map((range, index) => ({ range, index }))
    .filter(
      ({ range }) =>
        range.unit === unit && (range.coupling === null || coupling === null || range.coupling === coupling),
    )
    .sort((a, b) => a.range.top - b.range.top);

/** Who reads which channel, as it stands in the form. */
export class ChannelsForm {
  readonly channels: readonly ProcedureChannel[];
  filled = $state<Record<string, Filled>>({});
  isMoved = $state(false);
  refusals = $state.raw<Readonly<Record<string, string>>>({});

  /** @param was - the set-up that stands; empty when it is of another procedure */
  constructor(channels: readonly ProcedureChannel[], was: readonly ChannelChoice[]) {
    this.channels = channels;
    this.filled = Object.fromEntries(
      channels.map(({ id }) => {
        const found = was.find(({ channel }) => channel === id);
        const filled: Filled = {
          reader: found === undefined ? nobody : keyOf(found.meterId, found.value),
          range: found?.lockedRange ?? notLocked,
          passes: found?.passes === undefined ? '' : String(found.passes),
        };
        return [id, filled];
      }),
    );
    const repeated = was.filter(({ channel }) => this.#isRepeated(channel));
    this.isMoved = repeated.length > 1 && new Set(repeated.map(({ meterId }) => meterId)).size === 1;
  }

  snapshot(): ChannelBoxes {
    return $state.snapshot({ filled: this.filled, isMoved: this.isMoved });
  }

  restore({ filled, isMoved }: ChannelBoxes): void {
    Object.assign(this.filled, filled);
    this.isMoved = isMoved;
  }

  /** The channels that are chosen by themselves: one meter that is moved is chosen once. */
  get shown(): readonly ProcedureChannel[] {
    if (!this.isMoved) return this.channels;
    const first = this.channels.find(({ required }) => required);
    return this.channels.filter((channel) => channel === first || channel.cadence === 'once');
  }

  choose(channel: string, reader: string): void {
    this.filled[channel] = { reader, range: notLocked, passes: '' };
  }

  /** The choices, or null with what is missing at its channel. */
  read(): ChannelChoice[] | null {
    const wanting = this.shown.filter(({ id, required }) => required && this.filled[id]?.reader === nobody);
    this.refusals = Object.fromEntries(wanting.map(({ id }) => [id, 'Choose the meter that reads this.']));
    if (wanting.length > 0) return null;
    const first = this.shown[0];
    const choices = this.channels.flatMap((channel): readonly (ChannelChoice | null)[] => {
      const isByFirst = this.isMoved && channel.required;
      const filled = this.filled[isByFirst && first !== undefined ? first.id : channel.id];
      if (
        filled === undefined ||
        filled.reader === nobody ||
        (this.isMoved && !isByFirst && channel.cadence !== 'once')
      )
        return [];
      return [this.#choice(channel, filled)];
    });
    const read = choices.filter((choice) => choice !== null);
    return read.length === choices.length ? read : null;
  }

  #isRepeated(channel: string): boolean {
    return this.channels.some(({ id, cadence }) => id === channel && cadence === 'repeated');
  }

  #choice({ id }: ProcedureChannel, { reader, range, passes }: Filled): ChannelChoice | null {
    const [meter, ...value] = reader.split('/');
    const parsed = passes.trim() === '' ? null : parseNumber(passes);
    if (parsed !== null && (!parsed.ok || !Number.isInteger(parsed.value) || parsed.value < 1)) {
      this.refusals = { ...this.refusals, [id]: 'Passes through the clamp: a whole number, 1 or more.' };
      return null;
    }
    return {
      channel: id,
      meterId: Number(meter),
      lockedRange: range === notLocked ? null : range,
      ...(value.length === 0 ? {} : { value: value.join('/') }),
      ...(parsed === null || parsed.value === 1 ? {} : { passes: parsed.value }),
    };
  }
}
