import type { Bounds } from '../../../src-shared/calculation/input-shape.ts';
import { awgDiameterMm, awgNumber, thickestAwg, thinnestAwg } from '../../../src-shared/quantity/awg.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseNumber, parseQuantity, type ParsedNumber } from '../../../src-shared/quantity/parse-number.ts';
import { convert, isUnitSymbol } from '../../../src-shared/quantity/unit.ts';
import { doubtMeanings } from './doubt-means.ts';
import { gaugeUnit, unitOf, type LeafShape, type LeafTexts } from './form-node.svelte.ts';

/** What the boxes of a value come to, as the calculation takes it. */
export type LeafRead =
  | { readonly kind: 'absent' }
  | { readonly kind: 'value'; readonly value: unknown }
  | { readonly kind: 'unread'; readonly message: string };

const absent: LeafRead = { kind: 'absent' };
const is = (value: unknown): LeafRead => ({ kind: 'value', value });
const unread = (message: string): LeafRead => ({ kind: 'unread', message });

/** Digits that survive the way into another unit and back. */
const keptDigits = 8;

/** A number in another unit of its kind, rounded to what can be meant; as it is where the units are the same. */
function inUnit(value: number, from: string, to: string): number {
  if (from === to || !isUnitSymbol(from) || !isUnitSymbol(to)) return value;
  return Number((convert(value, from, to) ?? value).toPrecision(keptDigits));
}

/** The size of a step of one unit in another: for what comes after ±, where a zero has no say. */
function stepInUnit(step: number, from: string, to: string): number {
  if (from === to || !isUnitSymbol(from) || !isUnitSymbol(to)) return step;
  const size = (convert(1, from, to) ?? 1) - (convert(0, from, to) ?? 0);
  return Number((step * size).toPrecision(keptDigits));
}

/** Splits `4.88 ± 0.02` at its sign. */
export function splitAtDoubt(text: string): readonly [string, string | null] {
  const [value = '', doubt, ...rest] = text.split(/±|\+\/-|\+-/);
  return doubt === undefined || rest.length > 0 ? [text, null] : [value.trim(), doubt.trim()];
}

function gauge(text: string, unit: string, to: string): ParsedNumber | null {
  const written = /^(?:awg|#|no\.?)?\s*([1-4]\/0|\d{1,2})\s*(awg)?$/i.exec(text.trim());
  const isGauge = unit === gaugeUnit || /awg|#/i.test(text);
  const size = written?.[1];
  if (!isGauge) return null;
  if (size === undefined) return { ok: false, code: 'not-a-number' };
  const n = size.includes('/') ? 1 - Number(size.charAt(0)) : awgNumber(Number(size));
  if (n < thickestAwg || n > thinnestAwg) return { ok: false, code: 'not-a-number' };
  const diameter = awgDiameterMm(n);
  return { ok: true, value: Number((to === 'mm²' ? (Math.PI / 4) * diameter ** 2 : diameter).toPrecision(7)) };
}

/** Reads a text in `unit`, with or without a unit of its own behind it, into `to`. */
function readNumber(text: string, unit: string, to: string | null, isWireSize: boolean): ParsedNumber {
  if (to === null) return parseNumber(text);
  const wire = isWireSize ? gauge(text, unit, to) : null;
  if (wire !== null) return wire;
  if (!isUnitSymbol(to) || !isUnitSymbol(unit)) {
    const bare = text.trim();
    return parseNumber(bare.toLowerCase().endsWith(to.toLowerCase()) ? bare.slice(0, -to.length) : bare);
  }
  const parsed = parseQuantity(text, unit);
  return parsed.ok ? { ok: true, value: inUnit(parsed.value, unit, to) } : parsed;
}

/** What a box would take, in the unit that it shows: `a number above 0 and at most 3.937 in`. */
export function acceptedWords(shape: LeafShape, unit: string): string {
  if (shape.kind === 'choice') return `one of the ${shape.choices.length} offered`;
  if (shape.kind === 'either') return 'a whole number, or one of the names below';
  if (shape.kind !== 'measured' && shape.kind !== 'number') return 'a few words';
  const whole = shape.kind === 'number' && shape.whole;
  const own = unitOf(shape) ?? '';
  const shown = unit === gaugeUnit ? own : unit;
  const words = boundWords(shape.bounds, (bound) => formatNumber(inUnit(bound, own, shown), 4));
  return ['a', whole ? 'whole number' : 'number', words, shown].filter((part) => part !== '').join(' ');
}

function boundWords({ above, below, atLeast, atMost }: Bounds, said: (bound: number) => string): string {
  const low = above === undefined ? (atLeast === undefined ? '' : `from ${said(atLeast)}`) : `above ${said(above)}`;
  const high = below === undefined ? (atMost === undefined ? '' : `up to ${said(atMost)}`) : `below ${said(below)}`;
  return [low, high].filter((part) => part !== '').join(' ');
}

const why: Readonly<Record<string, string>> = {
  'two-separators': ' One decimal mark and no others: 1234.5 or 1234,5.',
  'unknown-unit': ' The unit behind it is not known here.',
  'wrong-unit': ' The unit behind it measures something else.',
};

const expected = (shape: LeafShape, unit: string, code: string): LeafRead =>
  unread(`Type ${acceptedWords(shape, unit)}.${why[code] ?? ''}`);

/** Reads the boxes of one value. */
export function readLeaf(shape: LeafShape, texts: LeafTexts): LeafRead {
  const text = texts.text.trim();
  switch (shape.kind) {
    case 'flag':
      return text === '' ? absent : is(text === 'yes');
    case 'choice':
    case 'text':
      return text === '' ? absent : is(text);
    case 'either': {
      if (text === '') return absent;
      const isNamed = shape.of.some((one) => one.kind === 'choice' && one.choices.includes(text));
      const parsed = parseNumber(text);
      if (!isNamed && !parsed.ok) return expected(shape, '', parsed.code);
      return is(isNamed || !parsed.ok ? text : parsed.value);
    }
    case 'number': {
      if (text === '') return absent;
      const parsed = readNumber(text, texts.unit, shape.unit, false);
      return parsed.ok ? is(parsed.value) : expected(shape, texts.unit, parsed.code);
    }
    case 'measured':
      return readMeasured(shape, texts);
  }
}

type MeasuredShape = Extract<LeafShape, { kind: 'measured' }>;

function readMeasured(shape: MeasuredShape, texts: LeafTexts): LeafRead {
  const [text, within] = splitAtDoubt(texts.text);
  const doubt = (within ?? texts.doubt).trim();
  if (text.trim() === '') return doubt === '' ? absent : unread('Only what comes after ± is there.');
  const parsed = readNumber(text, texts.unit, shape.unit, shape.isWireSize === true);
  if (!parsed.ok) return expected(shape, texts.unit, parsed.code);
  const { value } = parsed;
  const u = readDoubt(doubt, value, shape, texts);
  const shared = readShared(shape, texts);
  const dof = texts.dof.trim() === '' ? null : parseNumber(texts.dof);
  if (u === 'unread') return unread('After ± goes a number from 0 up, a percentage such as 0.5 %, or ? for not known.');
  if (shared === 'unread')
    return unread('The shared part needs both: with whom it is shared, and how much, from 0 up.');
  if (dof?.ok === false) return unread('Degrees of freedom are a number from 1 up; left empty: known well.');
  if (doubt === '' && shared === null) return is(value);
  const { shape: shapeOfDoubt } = doubtMeanings[texts.means];
  return is({
    value,
    u: u === 'exact' ? 0 : u === 'unknown' ? null : u,
    ...(shapeOfDoubt === 'normal' ? {} : { shape: shapeOfDoubt }),
    ...(dof === null ? {} : { dof: dof.value }),
    ...(shared === null ? {} : { shared }),
  });
}

/** A standard uncertainty in the unit of the calculation. */
function readDoubt(
  text: string,
  value: number,
  shape: MeasuredShape,
  texts: LeafTexts,
): number | 'exact' | 'unknown' | 'unread' {
  if (text === '') return 'exact';
  if (text === '?') return 'unknown';
  const { divisor } = doubtMeanings[texts.means];
  const percent = shape.unit === '%' ? null : /^(.*)%$/.exec(text);
  const given =
    percent === null ? readStep(text, shape.unit, texts.unit) : percentOf(parseNumber(percent[1] ?? ''), value);
  if (given === null || given < 0) return 'unread';
  return divisor === 1 ? given : Number((given / divisor).toPrecision(keptDigits));
}

function percentOf(part: ParsedNumber, value: number): number | null {
  return part.ok ? Number(((Math.abs(value) * part.value) / 100).toPrecision(keptDigits)) : null;
}

function readStep(text: string, to: string | null, unit: string): number | null {
  const own = to ?? '';
  const from = unit === gaugeUnit ? own : unit;
  if (isUnitSymbol(from) && isUnitSymbol(own) && !own.startsWith('°')) {
    const parsed = parseQuantity(text, from);
    return parsed.ok ? stepInUnit(parsed.value, from, own) : null;
  }
  const parsed = parseNumber(text);
  return parsed.ok ? stepInUnit(parsed.value, from, own) : null;
}

function readShared(shape: MeasuredShape, texts: LeafTexts): { id: string; u: number } | 'unread' | null {
  const [id, text] = [texts.sharedId.trim(), texts.sharedDoubt.trim()];
  if (id === '' && text === '') return null;
  const u = readStep(text, shape.unit, texts.unit);
  return id === '' || u === null || u < 0 ? 'unread' : { id, u };
}
