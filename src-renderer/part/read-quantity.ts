import { formatNumber } from '../../src-shared/quantity/format.ts';
import {
  parseNumber,
  parseQuantity,
  type NumberRefusal,
  type ParsedNumber,
} from '../../src-shared/quantity/parse-number.ts';
import { convert, isUnitSymbol, symbolIn, type UnitSystem } from '../../src-shared/quantity/unit.ts';
import type { Measured } from '../../src-shared/record/field.ts';

/** What a box for a number asks. */
export interface Asked {
  /** As it stands in sentences: `Tongue width`. */
  readonly name: string;
  /** The unit that the record holds; '' for a plain number. */
  readonly unit: string;
  /** In the record's unit. */
  readonly lowest: number;
  readonly highest: number;
}

/** What a person's text comes to. */
export type Read<T> =
  | { readonly kind: 'absent' }
  | { readonly kind: 'value'; readonly value: T }
  | { readonly kind: 'refused'; readonly message: string };

const refused = (message: string): { readonly kind: 'refused'; readonly message: string } => ({
  kind: 'refused',
  message,
});

/** The unit that a box shows for a quantity of the record. */
export const shownUnit = (unit: string, system: UnitSystem): string => symbolIn(system, unit);

function converted(value: number, from: string, to: string): number {
  return isUnitSymbol(from) && isUnitSymbol(to) ? (convert(value, from, to) ?? value) : value;
}

/** Reads a number in a unit; another one of its kind may stand behind it, such as `70 °F` where °C is asked. */
export const parseIn = (text: string, unit: string): ParsedNumber =>
  isUnitSymbol(unit) ? parseQuantity(text, unit) : parseNumber(text);

function accepted({ name, unit, lowest, highest }: Asked, system: UnitSystem): string {
  const shown = shownUnit(unit, system);
  const [from, to] = [lowest, highest].map((bound) => formatNumber(converted(bound, unit, shown), 4));
  return `${name} must be a number from ${from} to ${to}${shown === '' ? '' : ` ${shown}`}.`;
}

const why: Readonly<Record<Exclude<NumberRefusal, 'empty'>, string>> = {
  'not-a-number': '',
  'two-separators': ' Type one decimal mark and no others: 1234.5 or 1234,5.',
  'unknown-unit': ' The unit behind it is not known here.',
  'wrong-unit': ' The unit behind it measures something else.',
};

/** Reads a text as one number in the record's unit; a unit may stand behind it, otherwise it is in the shown one. */
export function readQuantity(text: string, asked: Asked, system: UnitSystem): Read<number> {
  const shown = shownUnit(asked.unit, system);
  const parsed = parseIn(text, shown);
  if (!parsed.ok) {
    return parsed.code === 'empty' ? { kind: 'absent' } : refused(accepted(asked, system) + why[parsed.code]);
  }
  const value = Number(converted(parsed.value, shown, asked.unit).toPrecision(12));
  return value < asked.lowest || value > asked.highest ? refused(accepted(asked, system)) : { kind: 'value', value };
}

/** Reads a value and its give-or-take; the latter may be left out and is then not known. */
export function readMeasured(text: string, doubt: string, asked: Asked, system: UnitSystem): Read<Measured> {
  const value = readQuantity(text, asked, system);
  const u = readQuantity(doubt, { ...asked, name: `Give or take of ${asked.name.toLowerCase()}`, lowest: 0 }, system);
  if (value.kind === 'refused') return value;
  if (u.kind === 'refused') return u;
  if (value.kind === 'absent') {
    return u.kind === 'absent' ? value : refused(`${asked.name} is missing; only its give or take is there.`);
  }
  return { kind: 'value', value: { value: value.value, u: u.kind === 'value' ? u.value : null } };
}

/** A number of the record as it stands in a box, in the person's units. */
export const boxText = (value: number | undefined, unit: string, system: UnitSystem): string =>
  value === undefined ? '' : formatNumber(converted(value, unit, shownUnit(unit, system)), 7);

/** The lowest and highest that a schema's checks allow. */
export function boundsOf(schema: { readonly pipe: readonly unknown[] }): {
  readonly lowest: number;
  readonly highest: number;
} {
  let [lowest, highest] = [-Infinity, Infinity];
  for (const step of schema.pipe) {
    if (typeof step !== 'object' || step === null || !('type' in step) || !('requirement' in step)) continue;
    if (typeof step.requirement !== 'number') continue;
    if (step.type === 'min_value') lowest = step.requirement;
    if (step.type === 'max_value') highest = step.requirement;
  }
  return { lowest, highest };
}
