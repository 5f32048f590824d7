import { couplings, readingKinds, readingOrigins, type Reading } from '../../src-shared/record/reading.ts';

/** A row of `reading`, with the start of its run by the wall clock. */
export interface ReadingRow {
  readonly reading_id: number;
  readonly run_id: number;
  readonly channel: number;
  readonly place: number;
  readonly at_us: number;
  readonly wall_offset_ms: number;
  readonly kind: number;
  readonly value: number | null;
  readonly coupling: number | null;
  readonly resolution: number | null;
  readonly text: string;
  readonly origin: number;
  readonly range_index: number | null;
  readonly flags: number;
  readonly run_wall_ms: number;
}

/** Reads `ReadingRow`s; a WHERE is put behind it. */
export const selectReading =
  'SELECT reading.*, run.wall_ms AS run_wall_ms FROM reading JOIN run ON run.run_id = reading.run_id';

export const insertReading = `INSERT INTO reading
  (reading_id, run_id, channel, place, at_us, wall_offset_ms, kind, value, coupling, resolution, text, origin, range_index, flags)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

export type ReadingParameters = [
  readingId: number,
  runId: number,
  channel: number,
  place: number,
  atUs: number,
  wallOffsetMs: number,
  kind: number,
  value: number | null,
  coupling: number | null,
  resolution: number | null,
  text: string,
  origin: number,
  rangeIndex: number | null,
  flags: number,
];

const locked = 1;
const tripped = 2;
const bottom = 4;

/** The words behind the small numbers of a row; the order is that of the migration. */
const wordAt = <T>(words: readonly T[], index: number, what: string): T => {
  const word = words[index];
  if (word === undefined) throw new Error(`The record holds a reading whose ${what} cannot be read: ${index}`);
  return word;
};

/** Microseconds since the start of the run. */
export const atUsOf = ({ atMs }: Reading): number => Math.round(atMs * 1000);

/** What is bound for a reading; it has been checked to be finite. */
export function toParameters(reading: Reading, place: number, runWallMs: number): ReadingParameters {
  const atUs = atUsOf(reading);
  return [
    reading.readingId,
    reading.runId,
    reading.channel,
    place,
    atUs,
    Math.round(reading.wallMs - runWallMs - atUs / 1000),
    readingKinds.indexOf(reading.kind),
    reading.value,
    reading.coupling === null ? null : couplings.indexOf(reading.coupling) + 1,
    reading.resolution,
    reading.text,
    readingOrigins.indexOf(reading.origin),
    reading.rangeIndex,
    (reading.rangeLocked ? locked : 0) + (reading.tripped ? tripped : 0) + (reading.bottomOfRange ? bottom : 0),
  ];
}

/** The reading that a row is. */
export function asReading(row: ReadingRow): Reading {
  return {
    readingId: row.reading_id,
    runId: row.run_id,
    channel: row.channel,
    atMs: row.at_us / 1000,
    wallMs: Math.round(row.run_wall_ms + row.at_us / 1000 + row.wall_offset_ms),
    kind: wordAt(readingKinds, row.kind, 'kind'),
    value: row.value,
    coupling: row.coupling === null ? null : wordAt(couplings, row.coupling - 1, 'coupling'),
    resolution: row.resolution,
    text: row.text,
    origin: wordAt(readingOrigins, row.origin, 'origin'),
    rangeIndex: row.range_index,
    rangeLocked: (row.flags & locked) !== 0,
    tripped: (row.flags & tripped) !== 0,
    bottomOfRange: (row.flags & bottom) !== 0,
  };
}
