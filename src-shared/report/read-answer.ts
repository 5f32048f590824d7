import * as v from 'valibot';
import type { Result } from '../record/run.ts';
import { resultWords } from '../calculation/result-words.ts';
import { isCalculationName, calculations } from '../calculation/table.ts';
import type { ResultWord, ResultWords } from '../calculation/words/word.ts';
import { formatEstimate, formatNumber } from '../quantity/format.ts';
import { wordsOf } from './happenings.ts';

const number = v.pipe(v.number(), v.finite());

/** A derived quantity in a kept result. */
export const KeptQuantity = v.looseObject({
  value: number,
  u: v.nullable(number),
  unit: v.string(),
  interval95: v.nullish(v.tuple([number, number])),
  budget: v.optional(v.array(v.looseObject({ input: v.string(), share: number }))),
});
type KeptQuantity = v.InferOutput<typeof KeptQuantity>;

const KeptAnswer = v.looseObject({
  results: v.optional(v.record(v.string(), v.unknown()), {}),
  working: v.optional(
    v.array(
      v.looseObject({ symbol: v.string(), formula: v.string(), numbers: v.string(), value: number, unit: v.string() }),
    ),
    [],
  ),
  cautions: v.optional(v.array(v.looseObject({ code: v.string(), text: v.string() })), []),
  sources: v.optional(v.array(v.string()), []),
});

/** One line of a result: its name, what it comes to, and where the doubt comes from. */
export interface AnswerLine {
  readonly name: string;
  /** As it is written with its uncertainty and unit: `120.20 ± 0.41 turns`. */
  readonly text: string;
  readonly quantity: KeptQuantity | null;
}

/** A part of a result that is a list of like things, as a table. */
interface AnswerTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A kept result, ready to be shown, whatever calculation it came from. */
export interface AnswerView {
  readonly resultId: number;
  readonly title: string;
  readonly version: number;
  readonly wallMs: number;
  readonly lines: readonly AnswerLine[];
  readonly tables: readonly AnswerTable[];
  readonly working: v.InferOutput<typeof KeptAnswer>['working'];
  readonly cautions: readonly string[];
  readonly sources: readonly string[];
}

/** What has no word of its own: `primaryTurns` as `Primary turns`. */
const keyWords = (key: string): string =>
  wordsOf(
    key.replaceAll(/([a-z0-9])([A-Z])/g, (_, before: string, after: string) => `${before} ${after.toLowerCase()}`),
  );

const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A longer list of figures is for drawing, and no line of a result. */
const listedAtMost = 24;
const isForDrawing = (value: unknown): boolean =>
  Array.isArray(value) && value.length > listedAtMost && value.every((each) => typeof each === 'number');

/** Anything a calculation can put into a cell, in the words that it has for it. */
function plainText(value: unknown, word?: ResultWord): string {
  if (value === null || value === undefined) return word?.absent ?? 'none';
  if (Array.isArray(value) && value.length === 0) return 'none';
  if (typeof value === 'number') return `${formatNumber(value, 6)}${word?.unit === undefined ? '' : ` ${word.unit}`}`;
  if (typeof value === 'boolean') return value ? (word?.yes ?? 'yes') : (word?.no ?? 'no');
  if (typeof value === 'string') return word?.choices?.[value] ?? value;
  const quantity = v.safeParse(KeptQuantity, value);
  if (quantity.success) return formatEstimate(quantity.output);
  if (Array.isArray(value)) return value.map((item) => plainText(item, word)).join(', ');
  if (!isGroup(value)) return '';
  return Object.entries(value)
    .map(([key, part]) => {
      const name = word?.of?.[key]?.label ?? keyWords(key);
      return `${name.charAt(0).toLowerCase()}${name.slice(1)} ${plainText(part, word?.of?.[key])}`;
    })
    .join(', ');
}

function tableOf(name: string, rows: readonly Readonly<Record<string, unknown>>[], of?: ResultWords): AnswerTable {
  const keys = toldOrder([...new Set(rows.flatMap((row) => Object.keys(row)))], of);
  return {
    name,
    columns: keys.map((key) => of?.[key]?.label ?? keyWords(key)),
    rows: rows.map((row) => keys.map((key) => (key in row ? plainText(row[key], of?.[key]) : ''))),
  };
}

/** Keys in the order in which they are told; what has no word comes last. */
function toldOrder(keys: readonly string[], of: ResultWords = {}): readonly string[] {
  const told = Object.keys(of);
  return [...told.filter((key) => keys.includes(key)), ...keys.filter((key) => !told.includes(key))];
}

/** A kept result as it is shown. What cannot be read is left out; the record keeps it as it was. */
export function readAnswer({ resultId, calculation, version, wallMs, output }: Result): AnswerView {
  const read = v.safeParse(KeptAnswer, output);
  const { results, working, cautions, sources } = read.success
    ? read.output
    : { results: {}, working: [], cautions: [], sources: [] };
  const lines: AnswerLine[] = [];
  const tables: AnswerTable[] = [];
  const of = resultWords[calculation];
  for (const key of toldOrder(Object.keys(results), of)) {
    const value = results[key];
    const word = of?.[key];
    if (isForDrawing(value)) continue;
    const name = word?.label ?? keyWords(key);
    const quantity = v.safeParse(KeptQuantity, value);
    if (quantity.success) lines.push({ name, text: formatEstimate(quantity.output), quantity: quantity.output });
    else if (Array.isArray(value) && value.length > 0 && value.every(isGroup))
      tables.push(tableOf(name, value, word?.of));
    else lines.push({ name, text: plainText(value, word), quantity: null });
  }
  return {
    resultId,
    title: isCalculationName(calculation) ? calculations[calculation].title : wordsOf(calculation),
    version,
    wallMs,
    // What was measured is told before what follows from it.
    lines: [...lines.filter(({ quantity }) => quantity !== null), ...lines.filter(({ quantity }) => quantity === null)],
    tables,
    working,
    cautions: cautions.map(({ text }) => text),
    sources,
  };
}
