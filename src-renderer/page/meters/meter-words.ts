import type { MeterState } from '../../../src-shared/contract/meter-view.ts';
import { judge } from '../../../src-shared/meter/accuracy.ts';
import type { MeterDescription } from '../../../src-shared/meter/description.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';

/** How a meter's status looks: its shape and its word. */
export function statusOf({ status }: Pick<MeterState, 'status'>): {
  readonly kind: 'well' | 'waiting' | 'bad' | 'none';
  readonly word: string;
} {
  switch (status) {
    case 'answering':
      return { kind: 'well', word: 'Answering' };
    case 'connecting':
      return { kind: 'waiting', word: 'Connecting' };
    case 'silent':
      return { kind: 'waiting', word: 'Silent' };
    case 'lost':
      return { kind: 'bad', word: 'Lost' };
    case 'failed':
      return { kind: 'bad', word: 'Failed' };
    case 'keyboard':
      return { kind: 'none', word: 'Typed by hand' };
    case 'off':
      return { kind: 'none', word: 'Not in use' };
  }
}

/** How a meter's values arrive, in a few words. */
export function linkWords(description: MeterDescription): string {
  switch (description.kind) {
    case 'serial': {
      const { port, talk, values } = description;
      const parts = [
        `${port.path}, ${port.baudRate} baud`,
        talk.mode === 'ask' ? `asked ${talk.query}` : '',
        values.length > 1 ? `${values.length} values a line` : '',
      ];
      return parts.filter((part) => part !== '').join(', ');
    }
    case 'keyboard':
      return 'its values are typed';
    case 'practice':
      return 'practice: nothing it says has been measured';
  }
}

/** What a meter may be joined to, in a few words. */
export function ratingWords(description: MeterDescription): string {
  const { maxVolts, category } = description;
  const rating = [maxVolts === null ? 'rating not known' : `up to ${formatNumber(maxVolts, 5)} V`, category ?? ''];
  return rating.filter((part) => part !== '').join(', ');
}

/** Whether a meter's lead ties the bench to the computer. */
export function isolationWords(description: MeterDescription): string {
  if (description.kind !== 'serial') return 'no link to the computer';
  return { yes: 'link isolated', no: 'link not isolated', unknown: 'link: isolation not known' }[
    description.linkIsolated
  ];
}

/** What a range's accuracy comes to at one reading. */
export interface WorkedExample {
  readonly at: string;
  /** The limit that the sheet states. */
  readonly limit: string;
  /** The standard uncertainty that the limit stands for. */
  readonly u: string;
}

/** The reading that an example is made for: six tenths of the range, as many digits as it shows. */
const exampleShare = 0.6;

/**
 * The accuracy of a range, worked at one reading: p % of it, and the digits times one step of the last one.
 * Null when the range is not one that can be judged.
 */
export function workedExample(range: MeterRange): WorkedExample | null {
  if (!(range.top > 0) || !(range.resolution > 0) || range.resolution >= range.top) return null;
  const value = Math.round((exampleShare * range.top) / range.resolution) * range.resolution;
  const judged = judge(
    0,
    { ranges: [range], scales: [] },
    {
      value,
      unit: range.unit,
      resolution: range.resolution,
      ...(range.coupling === null ? {} : { coupling: range.coupling }),
    },
    0,
  );
  if (judged.kind !== 'judged') return null;
  const limit = (range.percentOfReading / 100) * value + range.digits * range.resolution;
  const words = (quantity: number, figures: number): string => `${formatNumber(quantity, figures)} ${range.unit}`;
  return { at: words(value, 6), limit: words(limit, 2), u: words(judged.u, 2) };
}
