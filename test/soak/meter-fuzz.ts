import { valuesOf, type MeterValue } from '../../src-shared/meter/channel-reading.ts';
import { decimalMarks } from '../../src-shared/meter/decimal-mark.ts';
import { createLineGuard } from '../../src-shared/meter/line-guard.ts';
import { encodings } from '../../src-shared/meter/line-format.ts';
import type { LineField, ReadValue } from '../../src-shared/meter/line-grammar.ts';
import { lineReader } from '../../src-shared/meter/line-reader.ts';
import { meterUnits } from '../../src-shared/meter/unit.ts';
import { seededGenerator } from '../../src-shared/quantity/generator.ts';
import type { Soak } from './soak.ts';
import { serialMeter } from '../shared/meter/describe.ts';

/** What became of the lines. */
export interface FuzzCounts {
  readonly lines: number;
  readonly numbers: number;
  readonly overloads: number;
  /** By reason. */
  readonly unreadable: Readonly<Record<string, number>>;
  readonly dropped: number;
  /** The longest that one line took, in ms. */
  readonly slowestMs: number;
}

/** Patterns as people write them, and some that would hang a backtracking matcher. */
const patterns = [
  '(?<value>[-+]?[\\d.]+) *(?<unit>[a-zA-Z]+)?',
  '^(?<label1>\\w+)[=:] *(?<value1>[-+.,\\deE]+)(?<unit1>[munkM]?[VAWΩ])?(?:;(?<value2>.+))?$',
  '(?:(?:\\d+)+,)+(?<value>\\d+)x',
  '(?:.+)+(?<value>.+)(?:.+)+!',
  '(?<overload>[*]+|OL)|(?<value>-?\\d+(?:[.,]\\d+)?) ?(?<prefix>[mk])?(?<unit>V|A)',
];
const pieces =
  '0 1 2 5 9 12 118.6 0,987 1,234 . , ; : = + - ± − E E+ e-3 9.9E37 9.91E37 NaN INF OL 0.L ---- V mV MV kΩ kOhm mohm A W Hz °C °F F C AC DC ~ RMS V1: CH2= \t # * ! x overload'.split(
    ' ',
  );
const whole = [
  '118.6 V AC',
  '-0.712 A DC',
  '+9.870E-01',
  'V1: 118.6 V; 0.712 A',
  '0,9874 V~',
  '1.2 kOhm',
  'OL V',
  '23.4 C',
];

/** What one line may take, whatever it is. */
const longestMs = 250;

/** Every promise that leaves the grammar, kept for one value. */
function broken(value: ReadValue | MeterValue, line: string): string | null {
  if (value.kind === 'unreadable') return value.at < 0 || value.at > line.length ? 'a column outside the line' : null;
  if (value.unit !== undefined && !meterUnits.includes(value.unit)) return 'a unit of its own';
  if (value.kind === 'overload') return null;
  if (!Number.isFinite(value.value) || !Number.isFinite(value.resolution) || value.resolution <= 0)
    return 'a number that is none';
  return /\d/.test(line) ? null : 'a number from a line without a digit';
}

/**
 * Sends `lines` random lines (whole ones, mutilated ones, pieces of the grammar, plain garbage) through the guard, the
 * grammar with either decimal mark, and patterns. Throws with the line and the seed when a promise is broken: a value
 * that is not finite, a column outside the line, a number out of nothing, a line that takes longer than 250 ms.
 */
export function meterFuzz(seed: number, lines: number): FuzzCounts {
  const { uniform } = seededGenerator(seed);
  const upTo = (count: number): number => Math.floor(uniform() * count);
  const anyOf = <T>(list: readonly T[]): T => list[upTo(list.length)] as T;
  const readers = [
    ...decimalMarks.map((decimal) => lineReader({ grammar: 'generic', encoding: 'ascii', decimal })),
    ...patterns.map((pattern) =>
      lineReader({ grammar: 'pattern', encoding: 'ascii', decimal: anyOf(decimalMarks), pattern }),
    ),
  ];
  const meter = serialMeter({ bareUnit: { unit: 'V', coupling: null, powerOfTen: -3 } });
  const makers: readonly (() => string)[] = [
    () => anyOf(whole),
    () => {
      const line = anyOf(whole);
      const at = upTo(line.length);
      return `${line.slice(0, at)}${anyOf(pieces)}${line.slice(at + upTo(3))}`;
    },
    () => Array.from({ length: 1 + upTo(8) }, () => anyOf(pieces)).join(anyOf(['', ' '])),
    () => Array.from({ length: 1 + upTo(300) }, () => String.fromCharCode(32 + upTo(95))).join(''),
    () => anyOf(['1', 'a', '9,', '.1', 'OL', '-']).repeat(1 + upTo(200)),
    () => Array.from({ length: 1 + upTo(60) }, () => String.fromCharCode(upTo(256))).join(''),
  ];
  const unreadable: Record<string, number> = {};
  const counts = { lines: 0, numbers: 0, overloads: 0, dropped: 0, slowestMs: 0 };

  const note = (fields: readonly LineField[], line: string): void => {
    const values = [...fields.map(({ value }) => value), ...valuesOf(line, fields, meter).map(({ value }) => value)];
    for (const value of values) {
      const problem = broken(value, line);
      if (problem !== null) throw new Error(`Seed ${seed}: ${problem} in ${JSON.stringify(line)}`);
      if (value.kind === 'number') counts.numbers += 1;
      else if (value.kind === 'overload') counts.overloads += 1;
      else unreadable[value.why] = (unreadable[value.why] ?? 0) + 1;
    }
  };
  const timeOf = (work: () => void): number => {
    const from = performance.now();
    work();
    return performance.now() - from;
  };

  for (let index = 0; index < lines; index += 1) {
    const made = anyOf(makers)();
    const bytes = Buffer.from(`${made}\n`, anyOf(['latin1', 'utf8']));
    const [encoding, readAs] = [anyOf(encodings), anyOf(['latin1', 'utf8'] as const)];
    const guarded = createLineGuard({ encoding, joinsMidLine: false }).push(bytes);
    counts.dropped += guarded.filter(({ kind }) => kind === 'dropped').length;
    const texts = guarded.flatMap((line) => (line.kind === 'line' ? [Buffer.from(line.bytes).toString(readAs)] : []));
    const fields = texts.map((): (readonly LineField[])[] => []);
    const readAll = () => {
      texts.forEach((text, place) => (fields[place] = readers.map((read) => read(text))));
    };
    const tookMs = timeOf(readAll);
    // A busy machine can hold up one line; the line itself is slow only when it is slow every time.
    if (tookMs > longestMs && Math.min(timeOf(readAll), timeOf(readAll), timeOf(readAll)) > longestMs) {
      throw new Error(`Seed ${seed}: ${tookMs} ms for ${JSON.stringify(made)}`);
    }
    texts.forEach((text, place) => fields[place]?.forEach((read) => note(read, text)));
    counts.slowestMs = Math.max(counts.slowestMs, tookMs);
    counts.lines += 1;
  }
  return { ...counts, unreadable };
}

/** The same, as one of the long random runs. */
export const meterSoak: Soak = {
  name: 'meter-lines',
  run: ({ seed, isShort }) => {
    const { lines, numbers, overloads, slowestMs } = meterFuzz(seed, isShort ? 100_000 : 1_000_000);
    const read = `${numbers} numbers and ${overloads} overloads`;
    return Promise.resolve(
      `${lines} random lines, ${read}, none against the grammar; slowest ${slowestMs.toFixed(0)} ms`,
    );
  },
};
