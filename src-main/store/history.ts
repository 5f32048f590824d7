import type Database from 'better-sqlite3';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import {
  bucketFactor,
  bucketLevels,
  bucketOf,
  joinBuckets,
  levelBelow,
  type Bucket,
  type BucketLevel,
} from '../../src-shared/record/bucket.ts';
import { cover, coverWithin, type Piece } from '../../src-shared/record/cover.ts';
import { decimate, pointsOfAll, silenceUs, type Stretch } from '../../src-shared/record/decimation.ts';
import type { HistoryColumns } from '../../src-shared/record/reading.ts';
import { kindOf, originOf } from './reading-row.ts';
import { asBucket, type BucketRow } from './bucket-row.ts';

/** What part of a channel is asked for, and on how many pixels it is drawn. */
export interface HistoryView {
  readonly runId: number;
  readonly channel: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly pixels: number;
}

interface LeanRow {
  readonly place: number;
  readonly at_us: number;
  readonly form: number;
  readonly value: number | null;
}

/** Rows a pixel, and the fewest pixels that are read for: the ends of a range alone can take over a hundred rows. */
const rowsAPixel = 8;
const fewestPixels = 32;

/** What was read of a channel: a closed bucket, or a single reading at level 0. */
interface Part extends Stretch {
  readonly level: BucketLevel | 0;
  readonly number: number;
}

const asReading = ({ place, form, at_us: atUs, value }: LeanRow): Part => ({
  level: 0,
  number: place,
  bucket: bucketOf([{ kind: kindOf(form), atUs, value }]),
  isTyped: originOf(form) === 'keyboard',
});
const asPart =
  (level: BucketLevel) =>
  (row: BucketRow): Part => ({ level, number: row.number, bucket: asBucket(row), isTyped: false });

/** Everything that a history asks of a connection. */
function statements(database: Database.Database) {
  const select = 'SELECT place, at_us, form, value FROM reading WHERE run_id = ? AND channel = ?';
  const rising = 'ORDER BY at_us, reading_id LIMIT ?';
  const falling = 'ORDER BY at_us DESC, reading_id DESC LIMIT ?';
  return {
    channel: database
      .prepare<[number, string], number>('SELECT channel FROM run_channel WHERE run_id = ? AND name = ?')
      .pluck(),
    from: database.prepare<[number, number, number, number], LeanRow>(`${select} AND at_us >= ? ${rising}`),
    upTo: database.prepare<[number, number, number, number], LeanRow>(`${select} AND at_us <= ? ${falling}`),
    first: database.prepare<[number, number, number], LeanRow>(`${select} ${rising}`),
    last: database.prepare<[number, number, number], LeanRow>(`${select} ${falling}`),
    between: database.prepare<[number, number, number, number, number, number, number], LeanRow>(
      `${select} AND at_us BETWEEN ? AND ? AND place BETWEEN ? AND ? ${rising}`,
    ),
    buckets: database.prepare<[number, number, BucketLevel, number, number], BucketRow>(`
      SELECT * FROM bucket
      WHERE run_id = ? AND channel = ? AND level = ? AND number >= ? AND number < ?
      ORDER BY number`),
  };
}

/** What the closed buckets answer; see `Readings`. */
interface History {
  readonly view: (view: HistoryView) => Outcome<HistoryColumns>;
  /** All readings of a channel, by its index, taken together; null when there is none. */
  readonly whole: (runId: number, channel: number) => Bucket | null;
}

/** Answers views of the history over a connection; see `Readings.history`. */
export function createHistory(database: Database.Database): History {
  const sql = statements(database);

  /** Single readings stand only at the ends of a range, so they are found by time from there. */
  function read(runId: number, channel: number, piece: Piece, start: number, fromUs: number, toUs: number): Part[] {
    const count = piece.to - piece.from;
    if (piece.kind === 'buckets') {
      return sql.buckets.all(runId, channel, piece.level, piece.from, piece.to).map(asPart(piece.level));
    }
    if (piece.from === start) return sql.from.all(runId, channel, fromUs, count).map(asReading);
    return sql.upTo.all(runId, channel, toUs, count).reverse().map(asReading);
  }

  /** What a closed bucket was made of: the buckets of the level below, or its readings. */
  function open(runId: number, channel: number, { level, number, bucket }: Part): Part[] {
    const from = number * bucketFactor;
    const below = levelBelow(level);
    if (below !== 0) return sql.buckets.all(runId, channel, below, from, from + bucketFactor).map(asPart(below));
    const { firstUs, lastUs } = bucket;
    const to = from + bucketFactor - 1;
    return sql.between.all(runId, channel, firstUs, lastUs, from, to, bucketFactor).map(asReading);
  }

  function whole(runId: number, channel: number): Bucket | null {
    const last = sql.last.get(runId, channel, 1);
    if (last === undefined) return null;
    // The tail of single readings is read from the end, so that the start of the first piece stands for all before it.
    const parts = cover(0, last.place + 1, 4).flatMap((piece) => read(runId, channel, piece, 0, 0, last.at_us));
    return parts.map(({ bucket }) => bucket).reduce(joinBuckets);
  }

  const view: History['view'] = ({ runId, channel: name, fromMs, toMs, pixels }) => {
    const channel = sql.channel.get(runId, name);
    if (channel === undefined) return failed('not-found', 'This channel of the run is not in the record.');
    const fromUs = Math.ceil(fromMs * 1000);
    const toUs = Math.floor(toMs * 1000);
    const found = [
      sql.first.get(runId, channel, 1),
      sql.last.get(runId, channel, 1),
      sql.from.get(runId, channel, fromUs, 1),
      sql.upTo.get(runId, channel, toUs, 1),
    ];
    let rowsRead = found.filter((row) => row !== undefined).length;
    const [earliest, latest, first, last] = found;
    const empty = { runId, channel: name, atMs: [], value: [], readings: 0, rowsRead };
    if (earliest === undefined || latest === undefined || first === undefined || last === undefined) return done(empty);
    const start = first.place;
    const end = last.place + 1;
    if (start >= end) return done(empty);

    const budget = rowsAPixel * Math.max(pixels, fewestPixels);
    const pieces = coverWithin(start, end, budget - rowsRead);
    let parts = pieces.flatMap((piece) => read(runId, channel, piece, start, fromUs, toUs));
    rowsRead += parts.length;
    // Where readings came seldom a bucket is wide on the screen: the widest are opened as far as the budget goes.
    for (const _ of bucketLevels) {
      const wide = widest(
        parts,
        ((toMs - fromMs) * 1000) / pixels,
        Math.max(0, Math.floor((budget - rowsRead) / bucketFactor)),
      );
      if (wide.size === 0) break;
      parts = parts.flatMap((part) => (wide.has(part) ? open(runId, channel, part) : [part]));
      rowsRead += wide.size * bucketFactor;
    }
    const longest = silenceUs(latest.place + 1, earliest.at_us, latest.at_us);
    const points = decimate(pointsOfAll(parts, longest), fromMs, toMs, pixels);
    return done({
      runId,
      channel: name,
      atMs: points.map(({ atMs }) => atMs),
      value: points.map(({ value }) => value),
      readings: end - start,
      rowsRead,
    });
  };
  return { view, whole };
}

/** The buckets that are wider than a pixel, at most `count` of them, the widest first. */
function widest(parts: readonly Part[], pixelUs: number, count: number): ReadonlySet<Part> {
  const width = ({ bucket }: Part) => bucket.lastUs - bucket.firstUs;
  const wide = parts.filter((part) => part.level > 0 && width(part) > pixelUs);
  return new Set(wide.sort((a, b) => width(b) - width(a)).slice(0, count));
}
