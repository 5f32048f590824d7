import { formatNumber } from '../../quantity/format.ts';
import type { Conditions, Item } from './input.ts';

/** The condition that keeps two values from being compared. */
export interface Obstacle {
  readonly reason: 'condition-not-given' | 'condition-differs';
  readonly condition: keyof Conditions;
  readonly why: string;
}

interface Rule {
  readonly key: keyof Conditions;
  readonly words: string;
  /** What keeps the two apart, in words; null when they are alike enough. Asked only where both are given. */
  readonly apart: (item: Item, before: Conditions, after: Conditions) => string | null;
}

type WordKey = 'meterKind' | 'supplyKind';
type NumberKey = Exclude<keyof Conditions, WordKey>;

/** How far a number may differ: by a part of its size, or by so many of its unit. */
type Allowed = { readonly part: number } | { readonly by: number };

const number = (
  key: NumberKey,
  words: string,
  unit: string,
  allowedFor: (item: Item) => Allowed,
  advice: string | ((item: Item) => string),
): Rule => ({
  key,
  words,
  apart: (item, { [key]: before }, { [key]: after }) => {
    if (before === undefined || after === undefined) return null;
    const allowed = allowedFor(item);
    const most = 'by' in allowed ? allowed.by : allowed.part * Math.max(before.value, after.value);
    // A hair over, so that the bound itself is not lost to rounding.
    if (Math.abs(after.value - before.value) <= most * (1 + 1e-9)) return null;
    const [a, b] = [before, after].map(({ value }) => `${formatNumber(value, 5)} ${unit}`);
    return `${a} before, ${b} after. ${typeof advice === 'string' ? advice : advice(item)}`;
  },
});

const word = (key: WordKey, words: string): Rule => ({
  key,
  words,
  apart: (_, { [key]: before }, { [key]: after }) =>
    before === after ? null : `${String(before)} before, ${String(after)} after.`,
});

const onePercent = { part: 0.01 };
const isInsulation = ({ unit }: Item) => unit === 'MΩ';
const isTemperature = ({ unit }: Item) => unit === '°C' || unit === '°F';

/** All bounds are common practice, no source. */
const rules: readonly Rule[] = [
  number('hertz', 'frequency', 'Hz', () => onePercent, 'Test both at one frequency.'),
  number(
    'volts',
    'supply volts',
    'V',
    // A power taken from the curve at one place holds round that place.
    ({ voltsExponent }) => (voltsExponent === undefined ? onePercent : { part: 0.1 }),
    'Up to 10 % apart they can be brought together with the power of the volts that the quantity goes with, from the no-load curve.',
  ),
  number('amps', 'current', 'A', () => onePercent, 'State both at one current.'),
  number(
    'celsius',
    'winding temperature',
    '°C',
    // Insulation falls to about half for every 10 K warmer: 3 K are a fifth of it, within what a tester tells.
    (item) => ({ by: isInsulation(item) ? 3 : 1 }),
    (item) =>
      isInsulation(item)
        ? 'Insulation falls to about half for every 10 K warmer: measure both equally warm.'
        : 'Bring both resistances to 20 °C first.',
  ),
  number('testVolts', 'test voltage', 'V', () => onePercent, 'Test both at one voltage.'),
  number(
    'ambientCelsius',
    'ambient',
    '°C',
    // A temperature moves with the room; a rise hardly does.
    (item) => ({ by: isTemperature(item) ? 1 : 10 }),
    'Compare the rises over the ambient, in rooms that are alike.',
  ),
  number('startCelsius', 'temperature at the start', '°C', () => ({ by: 5 }), 'Start both from cold.'),
  word('meterKind', 'kind of meter'),
  word('supplyKind', 'kind of supply'),
];

/** The first condition that keeps two values from being compared; null when none does. */
export function obstacleBetween(item: Item, before: Conditions, after: Conditions): Obstacle | null {
  for (const { key, words, apart } of rules) {
    const missing = [before, after].filter((each) => each[key] === undefined).length;
    if (missing === 2) continue;
    if (missing === 1) {
      const side = before[key] === undefined ? 'before' : 'after';
      return { reason: 'condition-not-given', condition: key, why: `The ${words} ${side} was not noted.` };
    }
    const why = apart(item, before, after);
    if (why !== null) {
      return { reason: 'condition-differs', condition: key, why: `Not at the same ${words}: ${why}` };
    }
  }
  return null;
}
