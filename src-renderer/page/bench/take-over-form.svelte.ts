import type { ChannelChoice } from '../../../src-shared/contract/channel-choice.ts';
import type { ProcedureChannel } from '../../../src-shared/procedure/procedure.ts';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';
import { rangesFor, readersOf } from './channels-form.svelte.ts';
import { notLocked, type Meter } from './setup-form.svelte.ts';

/** The same meter, read by eye; and the same meter by its line again. */
const byEye = 'by-eye';
const byLine = 'by-line';

/** Who reads a channel from now on, in the middle of a run. */
export class TakeOverForm {
  readonly #channels: readonly ProcedureChannel[];
  readonly #choices: readonly ChannelChoice[];
  readonly #meters: readonly Meter[];
  channel = $state('');
  reader = $state('');
  range = $state(notLocked);
  passes = $state('');
  reason = $state('');
  readerRefusal = $state<string>();
  passesRefusal = $state<string>();
  reasonRefusal = $state<string>();

  /** @param choices - who reads what now */
  constructor(
    channels: readonly ProcedureChannel[],
    choices: readonly ChannelChoice[],
    meters: readonly Meter[],
    channel: string,
  ) {
    this.#channels = channels;
    this.#choices = choices;
    this.#meters = meters;
    this.channel = channel;
    this.choose(this.readers[0]?.value ?? '');
  }

  get channels(): readonly { readonly value: string; readonly label: string }[] {
    return this.#channels.map(({ id, label }) => ({
      value: id,
      label: this.#choices.some(({ channel }) => channel === id) ? label : `${label}, not read yet`,
    }));
  }

  get of(): ProcedureChannel | undefined {
    return this.#channels.find(({ id }) => id === this.channel);
  }

  get #now(): ChannelChoice | undefined {
    return this.#choices.find(({ channel }) => channel === this.channel);
  }

  /** Who may read the channel instead: by eye first, as nobody has to touch anything for it. */
  get readers(): readonly { readonly value: string; readonly label: string }[] {
    const { of } = this;
    if (of === undefined) return [];
    const now = this.#now;
    const meter = this.#meters.find(({ meterId }) => meterId === now?.meterId);
    const same =
      now === undefined || meter?.description.kind !== 'serial'
        ? []
        : now.byEye === true
          ? [{ value: byLine, label: `${meter.description.label}, as it sends` }]
          : [{ value: byEye, label: `${meter.description.label}, read by eye and typed` }];
    const key = now === undefined ? '' : [now.meterId, ...(now.value === undefined ? [] : [now.value])].join('/');
    const others = readersOf(this.#meters, of).filter((one) => one.key !== key);
    return [...same, ...others.map((one) => ({ value: one.key, label: one.label }))];
  }

  get isSameMeter(): boolean {
    return this.reader === byEye || this.reader === byLine;
  }

  get ranges() {
    const { of } = this;
    return of === undefined || this.isSameMeter ? [] : rangesFor(this.#meters, this.reader, of);
  }

  chooseChannel(channel: string): void {
    this.channel = channel;
    this.choose(this.readers[0]?.value ?? '');
  }

  choose(reader: string): void {
    this.reader = reader;
    this.range = notLocked;
    this.passes = '';
    this.readerRefusal = undefined;
  }

  /** The choice with its reason; null with what is missing at its box. */
  read(): { readonly reader: ChannelChoice; readonly reason: string } | null {
    const reason = this.reason.trim();
    this.reasonRefusal = reason === '' ? 'Say why, in a few words: it stands in the record.' : undefined;
    const choice = this.#choice();
    return choice === null || reason === '' ? null : { reader: choice, reason };
  }

  #choice(): ChannelChoice | null {
    const now = this.#now;
    if (this.isSameMeter && now !== undefined) {
      const { byEye: _was, ...rest } = now;
      return this.reader === byEye ? { ...rest, byEye: true } : rest;
    }
    const [meter = '', ...value] = this.reader.split('/');
    if (meter === '') {
      this.readerRefusal = 'Choose who reads it: describe a meter first when there is none.';
      return null;
    }
    const passes = this.passes.trim() === '' ? null : parseNumber(this.passes);
    const isWrong = passes !== null && (!passes.ok || !Number.isInteger(passes.value) || passes.value < 1);
    this.passesRefusal = isWrong ? 'A whole number, 1 or more.' : undefined;
    if (isWrong) return null;
    return {
      channel: this.channel,
      meterId: Number(meter),
      lockedRange: this.range === notLocked ? null : this.range,
      ...(value.length === 0 ? {} : { value: value.join('/') }),
      ...(passes?.ok === true && passes.value > 1 ? { passes: passes.value } : {}),
    };
  }
}
