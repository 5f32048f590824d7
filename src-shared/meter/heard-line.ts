import { assertNever } from '../quantity/assert-never.ts';
import type { MeterValue, NamedValue } from './channel-reading.ts';
import type { DropReason } from './line-guard.ts';
import { identityInWords } from './identity.ts';
import { sentenceOf } from './unreadable.ts';

/** One line as it came from the wire, and what became of it. */
export type HeardLine =
  | { readonly kind: 'read'; readonly atMs: number; readonly text: string; readonly values: readonly NamedValue[] }
  | { readonly kind: 'answer'; readonly atMs: number; readonly text: string; readonly to: string }
  | { readonly kind: 'unasked'; readonly atMs: number; readonly text: string }
  | { readonly kind: 'dropped'; readonly atMs: number; readonly text: string; readonly why: DropReason };

const dropped = {
  'too-long': 'No line end within 256 bytes. Is this the rate of the meter?',
  unprintable: 'Bytes that are no text. Is this the rate of the meter, and its encoding?',
  partial: 'The end of a line that had begun before the port was open, or the beginning of one that was cut off.',
} as const satisfies Record<DropReason, string>;

/** A number with the digits that the meter sent, in the base unit. */
const digits = (value: number, resolution: number): string => {
  const places = Math.max(0, Math.ceil(-Math.log10(resolution) - 1e-9));
  return value.toFixed(Math.min(places, 20));
};

function valueInWords(value: MeterValue): string {
  switch (value.kind) {
    case 'number':
      return [digits(value.value, value.resolution), value.unit, value.coupling].filter(Boolean).join(' ');
    case 'overload':
      return [value.sign < 0 ? 'overload below' : 'overload', value.unit, value.coupling].filter(Boolean).join(' ');
    case 'unreadable':
      return sentenceOf(value);
    default:
      return assertNever(value);
  }
}

/** What a person reads beside the line: its values as they were understood, or why not. */
export function heardInWords(line: HeardLine): string {
  switch (line.kind) {
    case 'dropped':
      return dropped[line.why];
    case 'answer':
      return line.to.toUpperCase() === '*IDN?' ? identityInWords(line.text) : `The answer to ${line.to}`;
    case 'unasked':
      return 'It came without being asked for, and is not read: an echo, or an answer that was too late.';
    case 'read':
      return valuesInWords(line.values);
    default:
      return assertNever(line);
  }
}

function valuesInWords(values: readonly NamedValue[]): string {
  if (values.length === 1) return values.map(({ value }) => valueInWords(value)).join('');
  return values.map(({ name, value }) => `${name}: ${valueInWords(value)}`).join('; ');
}
