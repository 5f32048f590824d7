import type { ChannelLimit, Limits } from '../../../src-shared/interlock/limit.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';

interface ChannelTexts {
  readonly channel: string;
  readonly label: string;
  readonly unit: string;
  readonly was: ChannelLimit;
  max: string;
  warn: string;
}

const textOf = (value: number | null): string => (value === null ? '' : formatNumber(value, 6));

/** The limits as texts. An empty text is no limit. */
export class LimitsForm {
  channels = $state<ChannelTexts[]>([]);
  runSeconds = $state('');
  silenceSeconds = $state('');
  typedSeconds = $state('');
  reason = $state('');
  problem = $state<string | null>(null);

  constructor(limits: Limits, named: (channel: string) => { label: string; unit: string }) {
    this.channels = limits.channels.map((was) => ({
      channel: was.channel,
      ...named(was.channel),
      was,
      max: textOf(was.max),
      warn: textOf(was.warn),
    }));
    this.runSeconds = textOf(limits.runSeconds);
    this.silenceSeconds = textOf(limits.silenceSeconds);
    this.typedSeconds = textOf(limits.typedSeconds);
  }

  /** The limits, or null with what is wrong. */
  read(): Limits | null {
    this.problem = null;
    const number = (text: string, what: string): number | null => {
      if (text.trim() === '') return null;
      const parsed = parseNumber(text);
      if (parsed.ok && parsed.value > 0) return parsed.value;
      this.problem = `${what}: type a number above zero, or leave it empty for none.`;
      return null;
    };
    const channels = this.channels.map(({ was, label, max, warn }) => ({
      ...was,
      max: number(max, `Limit of ${label}`),
      warn: number(warn, `Warning of ${label}`),
    }));
    const runSeconds = number(this.runSeconds, 'Power on at most');
    const silenceSeconds = number(this.silenceSeconds, 'A meter may be silent');
    const typedSeconds = number(this.typedSeconds, 'Typed values due every');
    if (this.problem === null && (silenceSeconds === null || typedSeconds === null)) {
      this.problem = 'How long a meter may be silent, and how often values are typed, cannot be empty.';
    }
    if (this.problem !== null || silenceSeconds === null || typedSeconds === null) return null;
    return { channels, runSeconds, silenceSeconds, typedSeconds };
  }
}
