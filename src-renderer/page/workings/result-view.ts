import type { BudgetLine, PhysicalResult } from '../../../src-shared/calculation/answer.ts';
import type { ResultWord, ResultWords } from '../../../src-shared/calculation/words/word.ts';
import { formatNumber, type Written } from '../../../src-shared/quantity/format.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { duration } from '../../part/time-words.ts';
import { spaced } from './budget-words.ts';
import { shownQuantity } from './own-units.ts';

/** A result as it stands on the screen. */
export type Shown =
  | {
      readonly kind: 'figure';
      readonly figure: Written;
      /** `116.81 to 117.32`; null where it cannot be known or nothing is doubtful. */
      readonly interval: string | null;
      readonly budget: readonly BudgetLine[];
      /** The same in words a person would use: `50 min 6 s`. */
      readonly aside: string | null;
    }
  | { readonly kind: 'number'; readonly text: string; readonly unit: string }
  | { readonly kind: 'words'; readonly text: string; readonly isAbsent: boolean }
  | { readonly kind: 'table'; readonly columns: readonly string[]; readonly rows: readonly (readonly Shown[])[] }
  | { readonly kind: 'group'; readonly lines: readonly ResultLine[] };

export interface ResultLine {
  readonly key: string;
  readonly label: string;
  readonly help: string | null;
  readonly isMinor: boolean;
  readonly isHead: boolean;
  readonly shown: Shown;
}

const isObject = (thing: unknown): thing is Readonly<Record<string, unknown>> =>
  typeof thing === 'object' && thing !== null && !Array.isArray(thing);

const isPhysical = (thing: unknown): thing is PhysicalResult =>
  isObject(thing) && 'value' in thing && 'interval95' in thing && 'unit' in thing;

const words = (text: string, isAbsent = false): Shown => ({ kind: 'words', text, isAbsent });

/** A table of so many columns has a sheet of its own. */
const widest = 3;

export const isWide = ({ shown, isMinor }: ResultLine): boolean =>
  !isMinor && shown.kind === 'table' && shown.columns.length > widest;

/** All results of a calculation in their order, in the words and units of the person. */
export function resultLines(of: ResultWords | undefined, results: unknown, system: UnitSystem): readonly ResultLine[] {
  if (!isObject(results)) return [];
  return Object.entries(results).map(([key, value]) => {
    const word = of?.[key] ?? { label: spaced(key) };
    return {
      key,
      label: word.label,
      help: word.help ?? null,
      isMinor: word.isMinor === true,
      isHead: word.isHead === true,
      shown: shownOf(value, word, system),
    };
  });
}

function shownOf(value: unknown, word: ResultWord, system: UnitSystem): Shown {
  if (value === null || value === undefined) return words(word.absent ?? 'Not known.', true);
  if (typeof value === 'boolean') return words(value ? (word.yes ?? 'Yes.') : (word.no ?? 'No.'));
  if (typeof value === 'string') {
    const said = word.choices?.[value] ?? value;
    return word.unit === undefined ? words(said) : { kind: 'number', text: said, unit: word.unit };
  }
  if (typeof value === 'number') return numberShown(value, word, system);
  if (isPhysical(value)) return figureShown(value, system);
  if (Array.isArray(value)) return listShown(value, word, system);
  return { kind: 'group', lines: resultLines(word.of, value, system) };
}

function numberShown(value: number, word: ResultWord, system: UnitSystem): Shown {
  if (word.indexOf !== undefined) return words(`Row ${value + 1}`);
  const { value: shown, unit } = shownQuantity({ value, u: null, unit: word.unit ?? '' }, system);
  return { kind: 'number', text: formatNumber(shown, 5).replace('-', '−'), unit };
}

function listShown(items: readonly unknown[], word: ResultWord, system: UnitSystem): Shown {
  if (items.length === 0) return words('None.');
  if (word.indexOf !== undefined && items.every((item) => typeof item === 'number')) {
    return words(`${items.length === 1 ? 'Row' : 'Rows'} ${items.map((item) => item + 1).join(', ')}`);
  }
  if (word.isRange === true) {
    const { unit } = shownQuantity({ value: 0, u: null, unit: word.unit ?? '' }, system);
    const ends = items.map((item) => numberShown(Number(item), word, system));
    return { kind: 'number', text: ends.map((end) => (end.kind === 'number' ? end.text : '')).join(' to '), unit };
  }
  if (items.every(isObject) && !items.every(isPhysical)) {
    const given = [...new Set(items.flatMap((item) => Object.keys(item)))];
    const told = Object.keys(word.of ?? {});
    // In the order in which they are told; what has no word comes last.
    const keys = [...told.filter((key) => given.includes(key)), ...given.filter((key) => !told.includes(key))];
    return {
      kind: 'table',
      columns: keys.map((key) => word.of?.[key]?.label ?? spaced(key)),
      rows: items.map((item) =>
        keys.map((key) =>
          Object.hasOwn(item, key) ? shownOf(item[key], word.of?.[key] ?? { label: key }, system) : words('–', true),
        ),
      ),
    };
  }
  return { kind: 'table', columns: [''], rows: items.map((item) => [shownOf(item, word, system)]) };
}

function figureShown(result: PhysicalResult, system: UnitSystem): Shown {
  const figure = shownQuantity(result, system);
  const { interval95, u, unit, value, budget = [] } = result;
  const ends =
    interval95 === null || u === null || u === 0
      ? null
      : interval95.map((end) => shownQuantity({ value: end, u: null, unit }, system).value);
  return {
    kind: 'figure',
    figure,
    interval: ends === null ? null : ends.map((end) => toDoubt(end, figure.u ?? 0)).join(' to '),
    budget,
    aside: unit === 's' && value >= 120 ? duration(value * 1000) : null,
  };
}

/** An end of an interval, with as many decimals as its figure has. */
function toDoubt(end: number, u: number): string {
  const decimals = 1 - Math.floor(Math.log10(u));
  const text = decimals > 9 || decimals < -5 ? formatNumber(end, 4) : end.toFixed(Math.max(0, decimals));
  return text.replace('-', '−');
}
