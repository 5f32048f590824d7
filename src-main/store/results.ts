import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Result } from '../../src-shared/record/run.ts';
import { bodyText, bodyValue, fromRow } from './body.ts';
import { rowId, type Context } from './context.ts';
import type { Signed } from './signed.ts';

/** A result about to be kept, with the readings it came from as far as they were picked one by one. */
export type NewResult = Omit<Result, 'resultId' | 'wallMs'> & { readonly readingIds: readonly number[] };

/** Derived quantities kept for good. */
export interface Results {
  /**
   * Keeps the result. `not-found` for a build, run or reading that is not there; `bad-input` when the run was made on
   * another build or the result holds a number that is not finite; `session-signed`.
   */
  keep(result: NewResult): Outcome<Result>;
  get(resultId: number): Result | null;
  /** In the order in which they were kept. */
  ofBuild(buildId: number): readonly Result[];
  ofRun(runId: number): readonly Result[];
  /** The readings that the result came from, in the order of their numbers. */
  readingsOf(resultId: number): readonly number[];
}

interface ResultRow {
  readonly result_id: number;
  readonly build_id: number;
  readonly run_id: number | null;
  readonly calculation: string;
  readonly version: number;
  readonly wall_ms: number;
  readonly body: string;
}

const Body = v.strictObject({ input: v.unknown(), output: v.unknown() });

function asResult(row: ResultRow): Result {
  const { input, output } = fromRow(Body, bodyValue(row.body), `result ${row.result_id}`);
  const { result_id: resultId, build_id: buildId, run_id: runId, calculation, version, wall_ms: wallMs } = row;
  return { resultId, buildId, runId, calculation, version, wallMs, input, output };
}

/** The results over a connection. */
export function createResults({ database, change, wallNow }: Context, signed: Signed): Results {
  const build = database.prepare<[number]>('SELECT 1 FROM build WHERE build_id = ?');
  const reading = database.prepare<[number]>('SELECT 1 FROM reading WHERE reading_id = ?');
  const buildOfRun = database
    .prepare<[number], number>('SELECT build_id FROM run JOIN session USING (session_id) WHERE run_id = ?')
    .pluck();
  const add = database.prepare<[number, number | null, string, number, number, string]>(
    'INSERT INTO result (build_id, run_id, calculation, version, wall_ms, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const addReading = database.prepare<[number, number]>('INSERT INTO result_reading VALUES (?, ?)');
  const select = 'SELECT * FROM result WHERE';
  const one = database.prepare<[number], ResultRow>(`${select} result_id = ?`);
  const byBuild = database.prepare<[number], ResultRow>(`${select} build_id = ? ORDER BY result_id`);
  const byRun = database.prepare<[number], ResultRow>(`${select} run_id = ? ORDER BY result_id`);
  const readings = database
    .prepare<[number], number>('SELECT reading_id FROM result_reading WHERE result_id = ? ORDER BY reading_id')
    .pluck();

  function refusal({ buildId, runId, readingIds }: NewResult) {
    if (build.get(buildId) === undefined) return failed('not-found', 'This build is not in the record.');
    if (runId !== null) {
      const ofRun = buildOfRun.get(runId);
      if (ofRun === undefined) return failed('not-found', 'This run is not in the record.');
      if (ofRun !== buildId) return failed('bad-input', 'The run was made on another build.');
      if (signed.run(runId)) return signed.refusal();
    }
    const missing = readingIds.find((id) => reading.get(id) === undefined);
    if (missing !== undefined) return failed('not-found', `Reading ${missing} is not in the record.`);
    return null;
  }

  return {
    keep: (result) =>
      change(() => {
        const { buildId, runId, calculation, version, input = null, output = null } = result;
        const refused = refusal(result);
        if (refused !== null) return refused;
        const body = bodyText({ input, output });
        if (!body.ok) return body;
        const wallMs = wallNow();
        const resultId = rowId(add.run(buildId, runId, calculation, version, wallMs, body.value));
        for (const readingId of new Set(result.readingIds)) addReading.run(resultId, readingId);
        return done({ resultId, buildId, runId, calculation, version, wallMs, input, output });
      }),
    get(resultId) {
      const row = one.get(resultId);
      return row === undefined ? null : asResult(row);
    },
    ofBuild: (buildId) => byBuild.all(buildId).map(asResult),
    ofRun: (runId) => byRun.all(runId).map(asResult),
    readingsOf: (resultId) => readings.all(resultId),
  };
}
