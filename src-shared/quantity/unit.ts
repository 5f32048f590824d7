import type { Written } from './format.ts';

/** The two systems of units that the screens speak. */
export type UnitSystem = 'metric' | 'us';

/** What is measured, as far as it has units to choose from. */
type Kind =
  | 'length'
  | 'long-length'
  | 'mass'
  | 'temperature'
  | 'temperature-difference'
  | 'area'
  | 'resistance-per-length'
  | 'mass-per-length'
  | 'current-density';

interface Unit {
  readonly kind: Kind;
  /** One of it, in the metric unit of its kind. */
  readonly size: number;
  /** Its reading at the zero of the metric unit. */
  readonly zero?: number;
  /** Other ways in which people write it. */
  readonly alias?: readonly string[];
}

/** Exact by definition: inch and pound (international yard and pound agreement, 1959), circular mil, Fahrenheit. */
const inch = 25.4;
const pound = 0.45359237;
const foot = 0.3048;
const circularMil = (Math.PI / 4) * (inch / 1000) ** 2;

/**
 * Every unit with a choice, by its symbol. `F°` is a difference in degrees Fahrenheit, `cmil` the area of a wire;
 * volts, amps, watts, ohms and seconds are the same in both systems. */
export const units = {
  mm: { kind: 'length', size: 1 },
  cm: { kind: 'length', size: 10 },
  in: { kind: 'length', size: inch, alias: ['"', '″', 'inch', 'inches'] },
  mil: { kind: 'length', size: inch / 1000, alias: ['mils', 'thou'] },
  m: { kind: 'long-length', size: 1 },
  ft: { kind: 'long-length', size: foot, alias: ["'", 'feet', 'foot'] },
  kg: { kind: 'mass', size: 1 },
  g: { kind: 'mass', size: 1e-3 },
  lb: { kind: 'mass', size: pound, alias: ['lbs', 'pound', 'pounds'] },
  oz: { kind: 'mass', size: pound / 16 },
  '°C': { kind: 'temperature', size: 1, alias: ['C', 'degC', '℃'] },
  '°F': { kind: 'temperature', size: 5 / 9, zero: 32, alias: ['F', 'degF', '℉'] },
  K: { kind: 'temperature-difference', size: 1 },
  'F°': { kind: 'temperature-difference', size: 5 / 9 },
  'mm²': { kind: 'area', size: 1, alias: ['mm2', 'mm^2'] },
  'cm²': { kind: 'area', size: 100, alias: ['cm2', 'cm^2'] },
  'in²': { kind: 'area', size: inch ** 2, alias: ['in2', 'in^2'] },
  cmil: { kind: 'area', size: circularMil, alias: ['circular mils', 'CM'] },
  'Ω/km': { kind: 'resistance-per-length', size: 1 },
  'Ω/1000 ft': { kind: 'resistance-per-length', size: 1 / foot },
  'kg/km': { kind: 'mass-per-length', size: 1 },
  'lb/1000 ft': { kind: 'mass-per-length', size: pound / foot },
  'A/mm²': { kind: 'current-density', size: 1 },
  'A/in²': { kind: 'current-density', size: 1 / inch ** 2 },
} as const satisfies Readonly<Record<string, Unit>>;

export type UnitSymbol = keyof typeof units;

/** The unit that each system shows for each kind. */
const shown: Readonly<Record<Kind, Readonly<Record<UnitSystem, UnitSymbol>>>> = {
  length: { metric: 'mm', us: 'in' },
  'long-length': { metric: 'm', us: 'ft' },
  mass: { metric: 'kg', us: 'lb' },
  temperature: { metric: '°C', us: '°F' },
  'temperature-difference': { metric: 'K', us: 'F°' },
  area: { metric: 'mm²', us: 'in²' },
  'resistance-per-length': { metric: 'Ω/km', us: 'Ω/1000 ft' },
  'mass-per-length': { metric: 'kg/km', us: 'lb/1000 ft' },
  'current-density': { metric: 'A/mm²', us: 'A/in²' },
};

const unitOf = (symbol: UnitSymbol): Unit => units[symbol];

/** Whether a symbol names a unit that has a counterpart in the other system. */
export const isUnitSymbol = (symbol: string): symbol is UnitSymbol => Object.hasOwn(units, symbol);

/** A value in another unit of the same kind; null when the two are of different kinds. */
export function convert(value: number, from: UnitSymbol, to: UnitSymbol): number | null {
  const [a, b] = [unitOf(from), unitOf(to)];
  if (a.kind !== b.kind) return null;
  return ((value - (a.zero ?? 0)) * a.size) / b.size + (b.zero ?? 0);
}

/** The symbol that a system shows where the calculation gives `symbol`; units without a counterpart stay. */
export const symbolIn = (system: UnitSystem, symbol: string): string =>
  isUnitSymbol(symbol) ? shown[unitOf(symbol).kind][system] : symbol;

/** A quantity with its uncertainty in the units of a system; quantities without a counterpart stay as they are. */
export function inSystem(quantity: Written, system: UnitSystem): Written {
  const to = symbolIn(system, quantity.unit);
  if (!isUnitSymbol(quantity.unit) || !isUnitSymbol(to)) return quantity;
  const value = convert(quantity.value, quantity.unit, to) ?? quantity.value;
  const ratio = unitOf(quantity.unit).size / unitOf(to).size;
  return { value, u: quantity.u === null ? null : quantity.u * ratio, unit: to };
}

/** The unit that a person wrote, by its symbol or one of its other spellings; null when it is none of ours. */
export function unitNamed(text: string): UnitSymbol | null {
  if (isUnitSymbol(text)) return text;
  const lower = text.toLowerCase();
  const match = Object.entries<Unit>(units).find(
    ([symbol, { alias }]) => symbol.toLowerCase() === lower || alias?.some((name) => name.toLowerCase() === lower),
  );
  return match !== undefined && isUnitSymbol(match[0]) ? match[0] : null;
}
