import type { DecimalMark } from './decimal-mark.ts';
import type { UnreadableReason } from './unreadable.ts';

/** A decimal number as it was written, before its unit is known. */
export interface WrittenNumber {
  readonly kind: 'number';
  /** Sign and digits with a point: exact, whatever the prefix will be. */
  readonly digits: string;
  readonly exponent: number;
  /** Places after the decimal mark. */
  readonly places: number;
  /** Characters used. */
  readonly length: number;
}

export type ScannedNumber =
  WrittenNumber | { readonly kind: 'no'; readonly why: UnreadableReason; readonly at: number };

const shape = {
  point: /^([+\-−]?) *(\d+(?:\.\d*)?|\.\d+)(?:[eE]([+-]?\d{1,4}))?/u,
  comma: /^([+\-−]?) *(\d+(?:,\d*)?|,\d+)(?:[eE]([+-]?\d{1,4}))?/u,
} as const satisfies Record<DecimalMark, RegExp>;

const otherMark = { point: ',', comma: '.' } as const satisfies Record<DecimalMark, string>;
const isDigit = (char: string | undefined): boolean => char !== undefined && char >= '0' && char <= '9';

/**
 * Reads one NR1, NR2 or NR3 number (IEEE 488.2-1992, 8.7.2 to 8.7.4) at the start of the text, with either decimal mark.
 * Refuses what could be two numbers, or one with a mark that was not declared.
 */
export function scanNumber(text: string, decimal: DecimalMark): ScannedNumber {
  const no = (why: UnreadableReason, at: number): ScannedNumber => ({ kind: 'no', why, at });
  const match = shape[decimal].exec(text);
  const [whole = '', sign = '', digits = '', exponent = '0'] = match ?? [];
  if (match === null) return no(/^[+\-−.,]/u.test(text) ? 'bad-number' : 'no-number', 0);
  const next = text[whole.length];
  if (next === otherMark[decimal]) return no(decimal === 'point' ? 'comma' : 'point', whole.length);
  if (isDigit(next) || next === '.' || next === ',' || next === "'") return no('bad-number', whole.length);
  const rest = text.slice(whole.length);
  const gap = rest.length - rest.trimStart().length;
  if (gap > 0 && isDigit(rest[gap])) return no('digits-apart', whole.length + gap);
  const plain = digits.replace(',', '.');
  const point = plain.indexOf('.');
  return {
    kind: 'number',
    digits: `${sign === '−' ? '-' : sign}${plain}`,
    exponent: Number(exponent),
    places: point === -1 ? 0 : plain.length - point - 1,
    length: whole.length,
  };
}

/** The value with its power of ten, rounded once: 12.34 with -3 is 0.01234 and not 12.34 * 0.001. */
export const valueOf = (number: WrittenNumber, powerOfTen: number): number =>
  Number(`${number.digits}e${number.exponent + powerOfTen}`) + 0;

/** One step of the last digit that was written. */
export const stepOf = (number: WrittenNumber, powerOfTen: number): number =>
  Number(`1e${number.exponent + powerOfTen - number.places}`);
