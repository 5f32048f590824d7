import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Reading } from '../../../src-shared/record/reading.ts';
import { csvLine, harmless, unharmed } from '../../../src-shared/report/csv.ts';
import { readingsCsv } from '../../../src-shared/report/readings-csv.ts';
import { readCsv } from './csv-reader.ts';
import { facts, startMs } from './facts-fixture.ts';

fc.configureGlobal({ seed: 20_310_314 });

const anyText = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 40 }),
  fc.constantFrom(
    '=1+1',
    '+9.87E+00 VAC',
    '-0.5 V',
    '@SUM(A1)',
    '\t=x',
    ' =x',
    "'=x",
    "'",
    '＝1',
    'a;=b',
    '"',
    'a"b\r\nc',
  ),
);

test('whatever is written is read back by a reader that shares nothing with the writer', () => {
  fc.assert(
    fc.property(
      fc.array(fc.array(anyText, { minLength: 2, maxLength: 6 }), { minLength: 1, maxLength: 6 }),
      (table) => {
        const read = readCsv(table.map(csvLine).join(''));
        expect(read.map((record) => record.map(unharmed))).toEqual(table.map((record) => [...record]));
      },
    ),
  );
});

// Common practice, no source: what table programs take for a formula at the start of a cell.
test('no cell of text begins, after spaces, with what a table program would run', () => {
  fc.assert(
    fc.property(anyText, (text) => {
      expect(harmless(text).trimStart()).not.toMatch(/^[=+\-@＝＋－＠]/);
      expect(unharmed(harmless(text))).toBe(text);
    }),
  );
});

const reading = (more: Partial<Reading>): Reading => ({
  readingId: 1,
  runId: 7,
  channel: 0,
  atMs: 1234.567,
  wallMs: startMs + 1235,
  kind: 'number',
  value: 118.6,
  coupling: 'ac',
  resolution: 0.1,
  text: '118.6 V',
  origin: 'meter',
  rangeIndex: 0,
  rangeLocked: true,
  tripped: false,
  bottomOfRange: false,
  ...more,
});

test('a reading stands in the column of its channel, with its uncertainty, unit in the header, text as it was sent', () => {
  const { head, line } = readingsCsv(facts);
  const [heads = [], ...rows] = readCsv(
    head +
      line(reading({})) +
      line(reading({ readingId: 2, channel: 1, value: 9.87, text: '+9.870E+00 VAC', rangeIndex: 1 })) +
      line(reading({ readingId: 3, kind: 'overload', value: null, text: 'OL', rangeIndex: null })) +
      line(reading({ readingId: 4, value: -0.5, text: '-0.5 V', tripped: true, origin: 'keyboard' })),
  );
  const column = (name: string) => rows.map((row) => row[heads.indexOf(name)]);
  expect(new Set(rows.map((row) => row.length))).toEqual(new Set([heads.length]));
  expect(column('Primary volts (V)')).toEqual(['118.6', '', '', '-0.5']);
  expect(column('Test-coil volts (V)')).toEqual(['', '9.87', '', '']);
  // ± (1.2 % of 118.6 + 5 × 0.1) is 1.9232 V, rectangular: over the root of three (JCGM 100:2008, 4.3.7).
  expect(Number(column('u of Primary volts (V)')[0])).toBeCloseTo(1.9232 / Math.sqrt(3), 2);
  expect(column('kind')).toEqual(['number', 'number', 'overload', 'number']);
  expect(column('text as sent').map((text) => unharmed(text ?? ''))).toEqual([
    '118.6 V',
    '+9.870E+00 VAC',
    'OL',
    '-0.5 V',
  ]);
  expect(column('text as sent')[1]).toBe("'+9.870E+00 VAC");
  expect(column('since start (s)')[0]).toBe('1.234567');
  expect(column('time (UTC)')[0]).toBe('2031-03-14T09:00:01.235Z');
  expect(column('after a trip')).toEqual(['no', 'no', 'no', 'yes']);
  expect(column('practice')).toEqual(['no', 'no', 'no', 'no']);
  expect(column('times faster than the clock')).toEqual(['1', '1', '1', '1']);
});

test('a practice run says so on every line, and how its time went', () => {
  const { head, line } = readingsCsv({ ...facts, run: { ...facts.run, practice: true, timeFactor: 60 } });
  const columns = readCsv(head)[0] ?? [];
  const cells = readCsv(line(reading({})))[0] ?? [];
  expect(cells[columns.indexOf('practice')]).toBe('yes');
  expect(cells[columns.indexOf('times faster than the clock')]).toBe('60');
  expect(cells[columns.indexOf('since start (simulated s)')]).toBe('1.234567');
});

test('a reading is told with the meter that read it, also where another took its channel over', () => {
  const [first, ...others] = facts.run.channels;
  if (first === undefined) throw new Error('The run has channels.');
  const { channel: _channel, unit: _unit, ...filler } = first;
  const taken = { ...first, takenOver: [{ ...filler, meterId: 9, meterRevisionId: 9, fromMs: 1000 }] };
  const [description] = facts.meters;
  if (description === undefined) throw new Error('The run has meters.');
  const doubled = description.ranges.map((range) => ({
    ...range,
    percentOfReading: 2 * range.percentOfReading,
    digits: 2 * range.digits,
  }));
  const { head, line } = readingsCsv({
    ...facts,
    run: { ...facts.run, channels: [taken, ...others] },
    takers: [[{ ...description, label: 'Pocket meter', ranges: doubled }], []],
  });
  const [heads = [], ...rows] = readCsv(
    head + line(reading({ atMs: 999 })) + line(reading({ readingId: 2, atMs: 1000 })),
  );
  const column = (name: string) => rows.map((row) => row[heads.indexOf(name)]);
  expect(column('meter')).toEqual([description.label, 'Pocket meter']);
  const [before = NaN, after = NaN] = column('u of Primary volts (V)').map(Number);
  expect(after / before).toBeCloseTo(2, 2);
});
