import {
  couplings,
  readingKinds,
  readingOrigins,
  type Reading,
  type ReadingKind,
  type ReadingOrigin,
} from '../../src-shared/record/reading.ts';

/** A row of `reading`, with the start of its run by the wall clock. */
export interface ReadingRow {
  readonly reading_id: number;
  readonly run_id: number;
  readonly channel: number;
  readonly place: number;
  readonly at_us: number;
  readonly wall_offset_ms: number;
  readonly value: number | null;
  readonly resolution: number | null;
  readonly text: string;
  readonly range_index: number | null;
  /** Kind, coupling, origin and marks as one number; see the migration. */
  readonly form: number;
  readonly run_wall_ms: number;
}

/** Reads `ReadingRow`s; a WHERE is put behind it. */
export const selectReading =
  'SELECT reading.*, run.wall_ms AS run_wall_ms FROM reading JOIN run ON run.run_id = reading.run_id';

const columns = [
  'reading_id',
  'run_id',
  'channel',
  'place',
  'at_us',
  'wall_offset_ms',
  'value',
  'resolution',
  'text',
  'range_index',
  'form',
] as const;

/** What is bound for readings, one reading after another, each in the order of the table's columns. */
export type ReadingValues = (number | string | null)[];

/** How many values are bound for one reading. */
export const valuesOfReading = columns.length;

/** Inserts so many readings by one statement: that takes a quarter less time than one statement each. */
export function insertReadings(count: number): string {
  const one = `(${columns.map(() => '?').join(', ')})`;
  return `INSERT INTO reading (${columns.join(', ')}) VALUES ${Array.from({ length: count }, () => one).join(', ')}`;
}

const locked = 64;
const tripped = 128;
const bottom = 256;

function formOf({ kind, coupling, origin, rangeLocked, tripped: isTripped, bottomOfRange }: Reading): number {
  const words =
    readingKinds.indexOf(kind) +
    4 * (coupling === null ? 0 : couplings.indexOf(coupling) + 1) +
    16 * readingOrigins.indexOf(origin);
  return words + (rangeLocked ? locked : 0) + (isTripped ? tripped : 0) + (bottomOfRange ? bottom : 0);
}

/** The words of a form; their order is that of the migration. */
const wordAt = <T>(words: readonly T[], index: number, what: string): T => {
  const word = words[index];
  if (word === undefined) throw new Error(`The record holds a reading whose ${what} cannot be read: ${index}`);
  return word;
};
export const kindOf = (form: number): ReadingKind => wordAt(readingKinds, form & 3, 'kind');
export const originOf = (form: number): ReadingOrigin => wordAt(readingOrigins, (form >> 4) & 3, 'origin');

/** Microseconds since the start of the run. */
export const atUsOf = ({ atMs }: Reading): number => Math.round(atMs * 1000);

/** Adds what is bound for a reading; it has been checked to be finite. */
export function addValues(values: ReadingValues, reading: Reading, place: number, runWallMs: number): void {
  const atUs = atUsOf(reading);
  values.push(
    reading.readingId,
    reading.runId,
    reading.channel,
    place,
    atUs,
    Math.round(reading.wallMs - runWallMs - atUs / 1000),
    reading.value,
    reading.resolution,
    reading.text,
    reading.rangeIndex,
    formOf(reading),
  );
}

/** The reading that a row is. */
export function asReading(row: ReadingRow): Reading {
  return {
    readingId: row.reading_id,
    runId: row.run_id,
    channel: row.channel,
    atMs: row.at_us / 1000,
    wallMs: Math.round(row.run_wall_ms + row.at_us / 1000 + row.wall_offset_ms),
    kind: kindOf(row.form),
    value: row.value,
    coupling: wordAt([null, ...couplings], (row.form >> 2) & 3, 'coupling'),
    resolution: row.resolution,
    text: row.text,
    origin: originOf(row.form),
    rangeIndex: row.range_index,
    rangeLocked: (row.form & locked) !== 0,
    tripped: (row.form & tripped) !== 0,
    bottomOfRange: (row.form & bottom) !== 0,
  };
}
