import type { ChannelKind, SetUp } from '../../../src-shared/interlock/bench.ts';
import type { ChannelLimit, Limits } from '../../../src-shared/interlock/limit.ts';
import { loosened } from '../../../src-shared/interlock/on-limit.ts';
import type { Refusal } from '../../../src-shared/interlock/refusal.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseIn } from '../../part/read-quantity.ts';

const bounds = ['max', 'warn', 'min', 'risePerMinute'] as const;
type BoundName = (typeof bounds)[number];
const times = ['runSeconds', 'silenceSeconds', 'typedSeconds'] as const;
type TimeName = (typeof times)[number];

/** One box of the form. Its name is the one that the guard gives the limit in a refusal. */
export interface LimitBox {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  /** What is proposed for it, in words. */
  readonly proposal: string;
}

const withPower: readonly ChannelKind[] = ['energised-volts', 'energised-amps', 'watts', 'temperature', 'ambient'];

const boundLabels: Readonly<Record<BoundName, string>> = {
  max: 'at most',
  warn: 'warn from',
  min: 'at least',
  risePerMinute: 'rise',
};
const timeLabels: Readonly<Record<TimeName, string>> = {
  runSeconds: 'Power on at most',
  silenceSeconds: 'A meter may be silent',
  typedSeconds: 'Typed values due every',
};

const textOf = (value: number | null | undefined): string =>
  value === null || value === undefined ? '' : formatNumber(value, 6);
const proposed = (value: number | null | undefined, unit: string): string =>
  value === null || value === undefined ? 'none proposed' : `proposed ${formatNumber(value, 6)} ${unit}`;
const limitOf = ({ channels }: Limits, channel: string): ChannelLimit =>
  channels.find((one) => one.channel === channel) ?? {
    channel,
    min: null,
    max: null,
    warn: null,
    risePerMinute: null,
  };

/** The limits as texts, a box each. An empty box is no limit. */
export class LimitsForm {
  readonly setUp: SetUp;
  texts = $state<Record<string, string>>({});
  reason = $state('');
  refusals = $state.raw<Readonly<Record<string, string>>>({});
  /** What is wrong with no single box. */
  problem = $state<string | null>(null);

  /** @param limits - those that stand, or the proposed ones */
  constructor(limits: Limits, setUp: SetUp) {
    this.setUp = setUp;
    for (const { id } of this.channels) {
      const limit = limitOf(limits, id);
      for (const bound of bounds) this.texts[`${id} ${bound}`] = textOf(limit[bound]);
    }
    for (const time of times) this.texts[time] = textOf(limits[time]);
  }

  /** Channels that can be bounded: what is read again and again with power on. */
  get channels() {
    return this.setUp.channels.filter(({ cadence, kind }) => cadence === 'repeated' && withPower.includes(kind));
  }

  boxesOf(channel: string): readonly LimitBox[] {
    const facts = this.setUp.channels.find(({ id }) => id === channel);
    if (facts === undefined) return [];
    const limit = limitOf(this.setUp.proposed.limits, channel);
    return bounds
      .filter((bound) => bound !== 'risePerMinute' || facts.kind === 'temperature')
      .map((bound) => {
        const unit = bound === 'risePerMinute' ? 'K a minute' : facts.unit;
        return {
          name: `${channel} ${bound}`,
          label: `${facts.label} ${boundLabels[bound]}`,
          unit,
          proposal: proposed(limit[bound], unit),
        };
      });
  }

  get timeBoxes(): readonly LimitBox[] {
    const { limits } = this.setUp.proposed;
    return times.map((name) => ({ name, label: timeLabels[name], unit: 's', proposal: proposed(limits[name], 's') }));
  }

  /** What of it is looser than proposed, by box; empty while a box cannot be read. */
  get looser(): readonly string[] {
    const { limits, wrong } = this.#parsed();
    return Object.keys(wrong).length > 0 ? [] : looserBoxes(limits, this.setUp.proposed.limits);
  }

  /** Every box as it is proposed. */
  asProposed(): void {
    const { limits } = this.setUp.proposed;
    for (const { id } of this.channels) {
      for (const bound of bounds) this.texts[`${id} ${bound}`] = textOf(limitOf(limits, id)[bound]);
    }
    for (const time of times) this.texts[time] = textOf(limits[time]);
    this.refusals = {};
  }

  /** The limits with their reason; null with what is wrong at its box. */
  read(): { readonly limits: Limits; readonly reason: string | null } | null {
    this.problem = null;
    const { limits, wrong } = this.#parsed();
    this.refusals = wrong;
    if (Object.keys(wrong).length > 0) return null;
    const reason = this.reason.trim();
    if (this.looser.length > 0 && reason === '') {
      this.refusals = { reason: 'Something is looser than proposed: say why, in a few words.' };
      return null;
    }
    return { limits, reason: reason === '' ? null : reason };
  }

  /** Puts what the guard refused at its box. */
  refused(refusal: Refusal | null, message: string): void {
    const named =
      refusal === null
        ? []
        : refusal.code === 'out-of-bounds'
          ? [refusal.what]
          : refusal.code === 'loosened-while-live'
            ? refusal.what.map(asBox)
            : refusal.code === 'reason-needed'
              ? ['reason']
              : [];
    if (named.length === 0) this.problem = message;
    else this.refusals = Object.fromEntries(named.map((name) => [name, outsideWords(refusal) ?? message]));
  }

  #parsed(): { readonly limits: Limits; readonly wrong: Readonly<Record<string, string>> } {
    const wrong: Record<string, string> = {};
    const number = (name: string, unit: string, mustBePositive: boolean): number | null => {
      const text = this.texts[name]?.trim() ?? '';
      if (text === '') return null;
      const read = parseIn(text, unit);
      if (read.ok && (!mustBePositive || read.value > 0)) return read.value;
      wrong[name] = mustBePositive
        ? 'Type a number above zero, or leave it empty for none.'
        : 'Type a number, or leave it empty for none.';
      return null;
    };
    const known = new Set(this.setUp.proposed.limits.channels.map(({ channel }) => channel));
    const channels = this.channels.flatMap(({ id, kind, unit }) => {
      const positive = kind !== 'temperature' && kind !== 'ambient';
      const limit: ChannelLimit = {
        channel: id,
        min: number(`${id} min`, unit, false),
        max: number(`${id} max`, unit, positive),
        warn: number(`${id} warn`, unit, positive),
        risePerMinute: number(`${id} risePerMinute`, '', true),
      };
      const isBounded = bounds.some((bound) => limit[bound] !== null);
      return isBounded || known.has(id) ? [limit] : [];
    });
    const runSeconds = number('runSeconds', 's', true);
    const [silence, typed] = [number('silenceSeconds', 's', true), number('typedSeconds', 's', true)];
    for (const [name, value] of [
      ['silenceSeconds', silence],
      ['typedSeconds', typed],
    ] as const) {
      if (value === null) wrong[name] ??= 'It cannot be empty: silence has to end somewhere.';
    }
    return { limits: { channels, runSeconds, silenceSeconds: silence ?? 0, typedSeconds: typed ?? 0 }, wrong };
  }
}

/** The guard's short word for a loosened rise as the name of its box. */
const asBox = (what: string): string => what.replace(/ rise$/, ' risePerMinute');

const looserBoxes = (limits: Limits, than: Limits): readonly string[] => loosened(limits, than).map(asBox);

/** What a box may hold, where a rating or a bound stands behind it. */
function outsideWords(refusal: Refusal | null): string | null {
  if (refusal?.code !== 'out-of-bounds') return null;
  const { lowest, highest } = refusal;
  const [low, high] = [lowest, highest].map((bound) => (bound === null ? null : formatNumber(bound, 4)));
  if (low !== null && low !== undefined && high !== null && high !== undefined)
    return `From ${low} to ${high}: nobody may set it beyond.`;
  if (high !== null && high !== undefined) return `${high} at most: the rating behind it, and nobody may go past it.`;
  return low === null || low === undefined ? 'It has to be a number.' : `${low} at least.`;
}
