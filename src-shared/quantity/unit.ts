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
  | 'current-density'
  | 'voltage'
  | 'current'
  | 'resistance'
  | 'power'
  | 'apparent-power'
  | 'energy'
  | 'time'
  | 'flux-density';

interface Unit {
  readonly kind: Kind;
  /** One of it, in the metric unit of its kind. */
  readonly size: number;
  /** Its reading at the zero of the metric unit. */
  readonly zero?: number;
  /** Other ways in which people write it. */
  readonly alias?: readonly string[];
  /** Case tells it apart from another unit: mV is not MV, mΩ is not MΩ. */
  readonly isCaseTold?: true;
}

/** Exact by definition: inch and pound (international yard and pound agreement, 1959), circular mil, Fahrenheit. */
const inch = 25.4;
const pound = 0.45359237;
const foot = 0.3048;
const circularMil = (Math.PI / 4) * (inch / 1000) ** 2;

/**
 * Every unit with a choice, by its symbol. `F°` is a difference in degrees Fahrenheit, `cmil` the area of a wire;
 * volts, amps, watts, ohms and seconds are the same in both systems, but come in several sizes. */
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
  V: { kind: 'voltage', size: 1, isCaseTold: true, alias: ['v', 'volt', 'volts'] },
  mV: { kind: 'voltage', size: 1e-3, isCaseTold: true, alias: ['mv'] },
  kV: { kind: 'voltage', size: 1e3, isCaseTold: true, alias: ['kv', 'KV'] },
  A: { kind: 'current', size: 1, isCaseTold: true, alias: ['a', 'amp', 'amps'] },
  mA: { kind: 'current', size: 1e-3, isCaseTold: true, alias: ['ma'] },
  Ω: { kind: 'resistance', size: 1, isCaseTold: true, alias: ['ohm', 'ohms', 'Ohm'] },
  mΩ: { kind: 'resistance', size: 1e-3, isCaseTold: true, alias: ['mohm', 'mOhm', 'milliohm', 'milliohms'] },
  kΩ: { kind: 'resistance', size: 1e3, isCaseTold: true, alias: ['kohm', 'kOhm', 'k'] },
  MΩ: { kind: 'resistance', size: 1e6, isCaseTold: true, alias: ['Mohm', 'MOhm', 'megohm', 'megohms'] },
  W: { kind: 'power', size: 1, isCaseTold: true, alias: ['w', 'watt', 'watts'] },
  kW: { kind: 'power', size: 1e3, isCaseTold: true, alias: ['kw', 'KW'] },
  VA: { kind: 'apparent-power', size: 1, isCaseTold: true, alias: ['va'] },
  kVA: { kind: 'apparent-power', size: 1e3, isCaseTold: true, alias: ['kva', 'KVA'] },
  kWh: { kind: 'energy', size: 1, isCaseTold: true, alias: ['kwh', 'KWh', 'KWH'] },
  Wh: { kind: 'energy', size: 1e-3, isCaseTold: true, alias: ['wh'] },
  s: { kind: 'time', size: 1, isCaseTold: true, alias: ['sec', 'second', 'seconds'] },
  min: { kind: 'time', size: 60, isCaseTold: true, alias: ['minute', 'minutes'] },
  h: { kind: 'time', size: 3600, isCaseTold: true, alias: ['hr', 'hour', 'hours'] },
  T: { kind: 'flux-density', size: 1, isCaseTold: true, alias: ['tesla'] },
  mT: { kind: 'flux-density', size: 1e-3, isCaseTold: true },
} as const satisfies Readonly<Record<string, Unit>>;

export type UnitSymbol = keyof typeof units;

/** The unit that each system shows for each kind; kinds that are the same in both are shown as they come. */
const shown: Readonly<Partial<Record<Kind, Readonly<Record<UnitSystem, UnitSymbol>>>>> = {
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

/** Whether a symbol names one of our units. */
export const isUnitSymbol = (symbol: string): symbol is UnitSymbol => Object.hasOwn(units, symbol);

/** A value in another unit of the same kind; null when the two are of different kinds. */
export function convert(value: number, from: UnitSymbol, to: UnitSymbol): number | null {
  const [a, b] = [unitOf(from), unitOf(to)];
  if (a.kind !== b.kind) return null;
  return ((value - (a.zero ?? 0)) * a.size) / b.size + (b.zero ?? 0);
}

/** The symbol that a system shows where the calculation gives `symbol`; units without a counterpart stay. */
export const symbolIn = (system: UnitSystem, symbol: string): string =>
  isUnitSymbol(symbol) ? (shown[unitOf(symbol).kind]?.[system] ?? symbol) : symbol;

/** Every unit of the same kind, the given one first; only itself where there is no other. */
export function unitsLike(symbol: string): readonly string[] {
  if (!isUnitSymbol(symbol)) return [symbol];
  const { kind } = unitOf(symbol);
  return [
    symbol,
    ...Object.keys(units).filter((other) => other !== symbol && isUnitSymbol(other) && units[other].kind === kind),
  ];
}

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
  // The ohm sign of some keyboards becomes the Greek letter.
  const written = text.normalize('NFC');
  if (isUnitSymbol(written)) return written;
  const lower = written.toLowerCase();
  const match = Object.entries<Unit>(units).find(([symbol, { alias = [], isCaseTold }]) =>
    isCaseTold === true ? alias.includes(written) : [symbol, ...alias].some((name) => name.toLowerCase() === lower),
  );
  return match !== undefined && isUnitSymbol(match[0]) ? match[0] : null;
}
