import type { DecimalMark } from './decimal-mark.ts';
import { scanNumber, stepOf, valueOf, type WrittenNumber } from './number-text.ts';
import { splitLine } from './split-line.ts';
import type { Coupling, MeterUnit } from './unit.ts';
import { readUnit, type WrittenUnit } from './unit-text.ts';
import type { Unreadable, UnreadableReason } from './unreadable.ts';

/** A number in the base unit; `unit` is absent on a bare number. */
export interface NumberValue {
  readonly kind: 'number';
  readonly value: number;
  readonly unit?: MeterUnit;
  readonly coupling?: Coupling;
  /** One step of the last digit that was sent, in the base unit. */
  readonly resolution: number;
  readonly text: string;
}

/** Beyond the meter's range; `sign` is 1 also where none was sent. */
export interface OverloadValue {
  readonly kind: 'overload';
  readonly sign: 1 | -1;
  readonly unit?: MeterUnit;
  readonly coupling?: Coupling;
  readonly text: string;
}

export type ReadValue = NumberValue | OverloadValue | Unreadable;

/** One value of a line, with the label that stood before it and its column from 0. */
export interface LineField {
  readonly label?: string;
  readonly column: number;
  readonly value: ReadValue;
}

const labelShape = /^([A-Za-z][\w ./()-]{0,23}?) *[:=] */u;
const markBefore = /^(ac\+dc|ac|dc) +(?=[+\-−.,\dOo])/iu;
const dashes = /^[-_–—](?:[. ]*[-_–—])+[. ]*(?:[\p{L}°º~=]|$)/u;
const overload = /^([+\-−]?) *(over ?load|over ?range|ovld|over|ofl|infinity|inf|[o0][.,]?l[.,]?|[.,][o0]l)/iu;
const afterNumber = /^[\p{L}°º%~=+\u2393\s]*$/u;
/** SCPI-99 volume 1, 7.2.1.4 and 7.2.1.5: infinity and not-a-number as plain numbers, 0.1 % apart. */
const scpi = { infinity: 9.9e37, notANumber: 9.91e37, relative: 1e-6 } as const;
/** Far outside what any meter of a bench shows: a line garbled into a number. */
const bounds = { largest: 1e15, smallest: 1e-18, finest: 1e-24 } as const;

const isNear = (value: number, target: number): boolean => Math.abs(Math.abs(value) - target) <= scpi.relative * target;

/** Coupling and unit as the optional fields of a value; Fahrenheit has become Celsius. */
function named({ unit, coupling }: WrittenUnit): { unit?: MeterUnit; coupling?: Coupling } {
  const base = unit === '°F' ? '°C' : unit;
  return { ...(base === undefined ? {} : { unit: base }), ...(coupling === undefined ? {} : { coupling }) };
}

function inBaseUnit(number: WrittenNumber, unit: WrittenUnit): { readonly value: number; readonly resolution: number } {
  const value = valueOf(number, unit.powerOfTen);
  const resolution = stepOf(number, unit.powerOfTen);
  if (unit.unit !== '°F') return { value, resolution };
  return { value: ((value - 32) * 5) / 9, resolution: (resolution * 5) / 9 };
}

function isOutOfBounds(number: WrittenNumber, value: number): boolean {
  const step = stepOf(number, 0);
  if (Math.abs(value) > bounds.largest || step > bounds.largest || step < bounds.finest) return true;
  return Math.abs(value) < bounds.smallest && /[1-9]/.test(number.digits);
}

/** Reads a value that has no label any more. `at` in refusals counts from the start of `text`. */
export function readValue(text: string, decimal: DecimalMark): ReadValue {
  const no = (why: UnreadableReason, at: number): Unreadable => ({ kind: 'unreadable', why, at, text });
  if (text === '') return no('blank', 0);
  const mark = markBefore.exec(text);
  const start = mark?.[0].length ?? 0;
  const body = text.slice(start);
  if (dashes.test(body)) return no('dashes', start);
  if (/^[+-]?nan(?![a-z])/iu.test(body)) return no('not-a-number', start);

  const over = overload.exec(body);
  if (over !== null) {
    const at = start + over[0].length;
    const unit = readUnit(text.slice(at), mark?.[1]);
    if (unit.kind === 'no') return no(unit.why, at);
    return { kind: 'overload', sign: over[1] === '-' || over[1] === '−' ? -1 : 1, ...named(unit), text };
  }

  const number = scanNumber(body, decimal);
  if (number.kind === 'no') {
    return no(number.why === 'no-number' && /\d/.test(body) ? 'text-before' : number.why, start + number.at);
  }
  const at = start + number.length;
  const rest = text.slice(at);
  if (/\d/.test(rest)) return no(/^ *[\p{L}°º~=]/u.test(rest) ? 'several-values' : 'text-after', at);
  if (!afterNumber.test(rest)) return no('text-after', at);
  const unit = readUnit(rest, mark?.[1]);
  if (unit.kind === 'no') return no(unit.why, at);
  const written = valueOf(number, 0);
  if (isNear(written, scpi.notANumber)) return no('not-a-number', start);
  if (isNear(written, scpi.infinity)) return { kind: 'overload', sign: written < 0 ? -1 : 1, ...named(unit), text };
  if (isOutOfBounds(number, written)) return no('out-of-bounds', start);
  return { kind: 'number', ...inBaseUnit(number, unit), ...named(unit), text };
}

/** Reads one piece of a line: `column` is where it starts, `text` may have spaces around it. */
function readField(text: string, column: number, decimal: DecimalMark): LineField {
  const start = column + text.length - text.trimStart().length;
  const whole = text.trim();
  const label = labelShape.exec(whole);
  const used = label?.[0].length ?? 0;
  const read = readValue(whole.slice(used), decimal);
  const value =
    read.kind === 'unreadable' ? { ...read, at: start + used + read.at, text: whole } : { ...read, text: whole };
  const name = label?.[1];
  if (name === undefined) return { column: start, value };
  return { label: name, column: start, value: isBare(value) && hidesUnit(name) ? apart(value, start) : value };
}

const isBare = (value: ReadValue): value is NumberValue => value.kind === 'number' && value.unit === undefined;
/** A label such as `mV` that may be the unit of the bare number behind it. */
const hidesUnit = (label: string): boolean => {
  const read = readUnit(label);
  return read.kind === 'unit' || read.why !== 'unknown-unit';
};
const apart = (value: NumberValue, at: number): Unreadable => ({
  kind: 'unreadable',
  why: 'unit-apart',
  at,
  text: value.text,
});

/**
 * Reads a line of text: each value with its unit, prefix and coupling, an overload, or why it could not be read.
 * Several values are parted by semicolon, tab or (with a decimal point) comma. What could mean two things is
 * unreadable; a number never comes from what is not one, and is always finite. At least one field is given.
 */
export function readLine(text: string, decimal: DecimalMark): readonly LineField[] {
  const split = splitLine(text, decimal);
  if (split.kind === 'no') return [{ column: 0, value: { kind: 'unreadable', why: split.why, at: split.at, text } }];
  const fields = split.pieces.map((piece) => readField(piece.text, piece.column, decimal));
  const hasWords = fields.some(({ value }) => value.kind === 'unreadable' && value.why === 'no-number');
  if (!hasWords) return fields;
  return fields.map((field) => (isBare(field.value) ? { ...field, value: apart(field.value, field.column) } : field));
}
