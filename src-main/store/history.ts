import type Database from 'better-sqlite3';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { bucketOf, type Bucket, type BucketLevel } from '../../src-shared/record/bucket.ts';
import { coverWithin, type Piece } from '../../src-shared/record/cover.ts';
import { decimate, pointsOfAll, silenceUs } from '../../src-shared/record/decimation.ts';
import type { HistoryColumns } from '../../src-shared/record/reading.ts';
import { kindOf } from './reading-row.ts';
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
/** The channel's first and last reading and those of the range. */
const probes = 4;

const asLeaf = ({ form, at_us: atUs, value }: LeanRow): Bucket => bucketOf([{ kind: kindOf(form), atUs, value }]);

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
    buckets: database.prepare<[number, number, BucketLevel, number, number], BucketRow>(`
      SELECT * FROM bucket
      WHERE run_id = ? AND channel = ? AND level = ? AND number >= ? AND number < ?
      ORDER BY number`),
  };
}

/** Answers views of the history over a connection; see `Readings.history`. */
export function createHistory(database: Database.Database): (view: HistoryView) => Outcome<HistoryColumns> {
  const sql = statements(database);

  /** Single readings stand only at the ends of a range, so they are found by time from there. */
  function read(runId: number, channel: number, piece: Piece, start: number, fromUs: number, toUs: number): Bucket[] {
    const count = piece.to - piece.from;
    if (piece.kind === 'buckets') {
      return sql.buckets.all(runId, channel, piece.level, piece.from, piece.to).map(asBucket);
    }
    if (piece.from === start) return sql.from.all(runId, channel, fromUs, count).map(asLeaf);
    return sql.upTo.all(runId, channel, toUs, count).reverse().map(asLeaf);
  }

  return ({ runId, channel: name, fromMs, toMs, pixels }) => {
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
    const probed = found.filter((row) => row !== undefined).length;
    const [earliest, latest, first, last] = found;
    const empty = { runId, channel: name, atMs: [], value: [], readings: 0, rowsRead: probed };
    if (earliest === undefined || latest === undefined || first === undefined || last === undefined) return done(empty);
    const start = first.place;
    const end = last.place + 1;
    if (start >= end) return done(empty);

    const pieces = coverWithin(start, end, rowsAPixel * Math.max(pixels, fewestPixels) - probes);
    const buckets = pieces.flatMap((piece) => read(runId, channel, piece, start, fromUs, toUs));
    const longest = silenceUs(latest.place + 1, earliest.at_us, latest.at_us);
    const points = decimate(pointsOfAll(buckets, longest), fromMs, toMs, pixels);
    return done({
      runId,
      channel: name,
      atMs: points.map(({ atMs }) => atMs),
      value: points.map(({ value }) => value),
      readings: end - start,
      rowsRead: probed + buckets.length,
    });
  };
}
