import { carriesCoupling, type Coupling, type MeterUnit } from './unit.ts';
import type { UnreadableReason } from './unreadable.ts';

/** A unit as written on a line: `°F` is still itself here, because its value has to be converted. */
export interface WrittenUnit {
  readonly kind: 'unit';
  readonly unit: MeterUnit | '°F' | undefined;
  readonly powerOfTen: number;
  readonly coupling: Coupling | undefined;
}

export type ReadUnit = WrittenUnit | { readonly kind: 'no'; readonly why: UnreadableReason };

type Named = MeterUnit | '°F';

/** Names whose case is fixed, then names that are accepted in any case. */
const exactNames: ReadonlyMap<string, Named> = new Map<string, Named>([
  ['V', 'V'],
  ['v', 'V'],
  ['A', 'A'],
  ['W', 'W'],
  ['VA', 'VA'],
  ['Ω', 'Ω'],
  ['\u2126', 'Ω'],
  ['F', 'F'],
  ['C', '°C'],
  ['°C', '°C'],
  ['°F', '°F'],
]);
const looseNames: ReadonlyMap<string, Named> = new Map<string, Named>([
  ['volt', 'V'],
  ['volts', 'V'],
  ['amp', 'A'],
  ['amps', 'A'],
  ['watt', 'W'],
  ['watts', 'W'],
  ['var', 'var'],
  ['wh', 'Wh'],
  ['ohm', 'Ω'],
  ['ohms', 'Ω'],
  ['hz', 'Hz'],
  ['degc', '°C'],
  ['degf', '°F'],
]);

/** SI prefixes as meters write them. K and U in capitals have no other meaning here (IEEE 488.2-1992, 7.7.3). */
const prefixes: ReadonlyMap<string, number> = new Map([
  ['p', -12],
  ['n', -9],
  ['u', -6],
  ['U', -6],
  ['\u00b5', -6],
  ['\u03bc', -6],
  ['m', -3],
  ['k', 3],
  ['K', 3],
  ['M', 6],
  ['G', 9],
]);

const marks: ReadonlyMap<string, Coupling | 'rms'> = new Map<string, Coupling | 'rms'>([
  ['ac', 'ac'],
  ['~', 'ac'],
  ['dc', 'dc'],
  ['=', 'dc'],
  ['\u2393', 'dc'],
  ['ac+dc', 'ac+dc'],
  ['dc+ac', 'ac+dc'],
  ['acdc', 'ac+dc'],
  ['rms', 'rms'],
  ['trms', 'rms'],
  ['acrms', 'ac'],
  ['actrms', 'ac'],
]);

const markOf = (word: string): Coupling | 'rms' | undefined => marks.get(word.toLowerCase());
const named = (name: string): Named | undefined => exactNames.get(name) ?? looseNames.get(name.toLowerCase());

/**
 * By the SI m is milli and M mega. By IEEE 488.2-1992, 7.7.3 case means nothing: M is milli, but mega with OHM and HZ.
 * Where both agree it is read; where they differ it is refused.
 */
function isAmbiguous(prefix: string, name: string, unit: Named): boolean {
  const isSwapped = unit === 'Ω' || unit === 'Hz';
  if (prefix === 'M') return !isSwapped;
  return prefix === 'm' && isSwapped && /^[a-z]+$/.test(name);
}

/** One word without its marks: a unit with or without a prefix. */
function readName(word: string): Omit<WrittenUnit, 'coupling'> | { kind: 'no'; why: UnreadableReason } {
  const alone = named(word);
  if (alone === 'F') return { kind: 'no', why: 'ambiguous-unit' };
  if (alone !== undefined) return { kind: 'unit', unit: alone, powerOfTen: 0 };
  const [prefix = '', ...rest] = word;
  const name = rest.join('');
  const unit = named(name);
  const power = prefixes.get(prefix);
  if (unit === undefined || power === undefined || unit === '°C' || unit === '°F')
    return { kind: 'no', why: 'unknown-unit' };
  if (isAmbiguous(prefix, name, unit)) return { kind: 'no', why: 'ambiguous-prefix' };
  return { kind: 'unit', unit, powerOfTen: power };
}

const isUnitLike = (word: string): boolean => {
  const read = readName(word);
  return read.kind === 'unit' || read.why !== 'unknown-unit';
};

/** Splits a mark off the end of a word, such as `VAC` or `mV~`; the word itself when a unit is named so. */
function splitMark(word: string): readonly [name: string, mark: Coupling | 'rms' | undefined] {
  if (readName(word).kind === 'unit') return [word, undefined];
  const found = [...marks.keys()]
    .filter((mark) => word.length > mark.length && word.toLowerCase().endsWith(mark))
    .sort((one, other) => other.length - one.length)
    .find((mark) => isUnitLike(word.slice(0, -mark.length)));
  return found === undefined ? [word, undefined] : [word.slice(0, -found.length), markOf(found)];
}

/** Joins what belongs together: `k Ohm`, `deg C`, `° C`. */
const joined = (text: string): string =>
  text
    .replaceAll('º', '°')
    .replace(/(^|\s)([numkKMGµμ]) +(?=(?:ohms?|Ω|\u2126)(?:\s|$))/iu, '$1$2')
    .replace(/(^|\s)(deg|°) +(?=[CF](?:\s|$))/u, '$1$2');

/** The words of a text, joined where they belong together. One word, as on nearly every line, is itself. */
function wordsOf(text: string): readonly string[] {
  const trimmed = text.trim();
  if (trimmed === '') return [];
  return /[\sº]/u.test(trimmed) ? joined(trimmed).split(/\s+/) : [trimmed];
}

/**
 * Reads what stands after a number: a unit with its prefix, and marks of coupling, attached or apart. Nothing at all is
 * a bare number (`unit` undefined). `before` is a mark that stood before the number.
 */
export function readUnit(text: string, before?: string): ReadUnit {
  const words = wordsOf(text);
  const names = words.filter((word) => markOf(word) === undefined);
  const [first, second] = names;
  if (second !== undefined) return { kind: 'no', why: 'text-after' };
  const [name, attached] = first === undefined ? [undefined, undefined] : splitMark(first);
  const said = [...words, before ?? ''].map(markOf);
  const [coupling, ...others] = [...said, attached].filter((mark) => mark !== undefined && mark !== 'rms');
  if (others.some((other) => other !== coupling)) return { kind: 'no', why: 'contradicting-marks' };
  if (name === undefined) return { kind: 'unit', unit: undefined, powerOfTen: 0, coupling };
  const read = readName(name);
  if (read.kind === 'no') return read;
  if (coupling === undefined) return { ...read, coupling };
  if (read.unit === 'Hz') return { ...read, coupling: undefined };
  const takes = read.unit !== undefined && read.unit !== '°F' && carriesCoupling(read.unit);
  return takes ? { ...read, coupling } : { kind: 'no', why: 'contradicting-marks' };
}
