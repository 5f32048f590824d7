import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { Build, BuildFields, Winding, WindingFields } from '../../src-shared/record/build.ts';
import { closedChanges } from '../../src-shared/record/winding-change.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import { rowId, type Context, type RevisionRow } from './context.ts';

/** The states of the cores' windings. */
export interface Builds {
  /**
   * Adds the core's next build, numbered in order, with its windings. `not-found` when there is no such core, or the plan
   * that it followed was not made for it.
   */
  add(coreId: number, fields: BuildFields, windings: readonly WindingFields[]): Outcome<Build>;
  /** A further winding. `not-found`; `build-in-use` when a run was made on the build. */
  addWinding(buildId: number, fields: WindingFields): Outcome<Winding>;
  /**
   * Writes a row that replaces the winding's latest one, with the reason. `not-found`; `build-in-use` when a run was
   * made on its build and more would change than what a measurement found out (src-shared/record/winding-change.ts).
   */
  reviseWinding(windingId: number, reason: string, fields: WindingFields): Outcome<Winding>;
  /** The build with the latest row of each winding; null when there is no such build. */
  get(buildId: number): Build | null;
  /** The core's builds in order; empty when there is no such core. */
  listOf(coreId: number): readonly Build[];
  /** The build that the winding belongs to; null when there is no such winding. */
  ofWinding(windingId: number): Build | null;
  /** Every row that was ever written for the winding, oldest first. */
  windingHistory(windingId: number): readonly Winding[];
}

interface BuildRow {
  readonly build_id: number;
  readonly core_id: number;
  readonly number: number;
  readonly wall_ms: number;
  readonly body: string;
  readonly has_runs: number;
}

interface WindingRow extends RevisionRow {
  readonly winding_id: number;
}

const asWinding = (row: WindingRow): Winding =>
  fromRow(
    Winding,
    {
      windingId: row.winding_id,
      revisionId: row.revision_id,
      replaces: row.replaces,
      reason: row.reason,
      wallMs: row.wall_ms,
      fields: bodyValue(row.body),
    },
    `winding row ${row.revision_id}`,
  );

/** Everything that the builds ask of a connection. */
function statements(database: Context['database']) {
  const build = `
    SELECT build.*, EXISTS (SELECT 1 FROM run JOIN session USING (session_id) WHERE build_id = build.build_id) AS has_runs
    FROM build`;
  return {
    core: database.prepare<[number]>('SELECT 1 FROM core WHERE core_id = ?'),
    result: database.prepare<[number]>('SELECT 1 FROM result WHERE result_id = ?'),
    planVersion: database.prepare<[number, number]>(`
      SELECT 1 FROM plan_revision JOIN plan USING (plan_id) JOIN build USING (build_id)
      WHERE revision_id = ? AND core_id = ?`),
    number: database
      .prepare<[number], number>('SELECT coalesce(max(number), 0) + 1 FROM build WHERE core_id = ?')
      .pluck(),
    addBuild: database.prepare<[number, number, number, string]>(
      'INSERT INTO build (core_id, number, wall_ms, body) VALUES (?, ?, ?, ?)',
    ),
    addWinding: database.prepare<[number]>('INSERT INTO winding (build_id) VALUES (?)'),
    addWindingRow: database.prepare<[number, number | null, string | null, number, number | null, string]>(`
      INSERT INTO winding_revision (winding_id, replaces, reason, wall_ms, turns_result_id, body)
      VALUES (?, ?, ?, ?, ?, ?)`),
    build: database.prepare<[number], BuildRow>(`${build} WHERE build_id = ?`),
    buildsOfCore: database.prepare<[number], BuildRow>(`${build} WHERE core_id = ? ORDER BY number`),
    buildOfWinding: database.prepare<[number], BuildRow>(
      `${build} WHERE build_id = (SELECT build_id FROM winding WHERE winding_id = ?)`,
    ),
    windings: database.prepare<[number], WindingRow>(`
      SELECT row.* FROM winding JOIN winding_revision AS row USING (winding_id)
      WHERE build_id = ?
        AND NOT EXISTS (SELECT 1 FROM winding_revision AS later WHERE later.replaces = row.revision_id)
      ORDER BY winding_id`),
    windingRows: database.prepare<[number], WindingRow>(
      'SELECT * FROM winding_revision WHERE winding_id = ? ORDER BY revision_id',
    ),
  };
}

/** The builds over a connection. */
export function createBuilds({ database, change, wallNow }: Context): Builds {
  const sql = statements(database);

  const asBuild = (row: BuildRow): Build =>
    fromRow(
      Build,
      {
        buildId: row.build_id,
        coreId: row.core_id,
        number: row.number,
        wallMs: row.wall_ms,
        fields: bodyValue(row.body),
        windings: sql.windings.all(row.build_id).map(asWinding),
        hasRuns: row.has_runs === 1,
      },
      `build ${row.build_id}`,
    );
  const orNull = (row: BuildRow | undefined) => (row === undefined ? null : asBuild(row));
  const get = (buildId: number) => orNull(sql.build.get(buildId));

  function writeWinding(windingId: number, before: Winding | null, reason: string | null, input: WindingFields) {
    const fields = checked(WindingFields, input);
    if (!fields.ok) return fields;
    const { turns } = fields.value;
    const resultId = turns.kind === 'estimated' ? turns.resultId : null;
    if (resultId !== null && sql.result.get(resultId) === undefined) {
      return failed('not-found', 'The result that the turns come from is not in the record.', {
        path: 'turns.resultId',
      });
    }
    const body = bodyText(fields.value);
    if (!body.ok) return body;
    const wallMs = wallNow();
    const replaces = before?.revisionId ?? null;
    const revisionId = rowId(sql.addWindingRow.run(windingId, replaces, reason, wallMs, resultId, body.value));
    return done<Winding>({ windingId, revisionId, replaces, reason, wallMs, fields: fields.value });
  }

  return {
    add: (coreId, input, windings) =>
      change(() => {
        if (sql.core.get(coreId) === undefined) return failed('not-found', 'This core is not in the record.');
        const fields = checked(BuildFields, input);
        if (!fields.ok) return fields;
        const { planRevisionId } = fields.value;
        if (planRevisionId !== undefined && sql.planVersion.get(planRevisionId, coreId) === undefined) {
          return failed('not-found', 'The plan that it was wound by is not in the record of this core.', {
            path: 'planRevisionId',
          });
        }
        const body = bodyText(fields.value);
        if (!body.ok) return body;
        const number = sql.number.get(coreId) ?? 1;
        const wallMs = wallNow();
        const buildId = rowId(sql.addBuild.run(coreId, number, wallMs, body.value));
        const added: Winding[] = [];
        for (const winding of windings) {
          const written = writeWinding(rowId(sql.addWinding.run(buildId)), null, null, winding);
          if (!written.ok) return written;
          added.push(written.value);
        }
        return done({ buildId, coreId, number, wallMs, fields: fields.value, windings: added, hasRuns: false });
      }),
    addWinding: (buildId, fields) =>
      change(() => {
        const build = get(buildId);
        if (build === null) return failed('not-found', 'This build is not in the record.');
        if (build.hasRuns) {
          return failed('build-in-use', 'A run was made on this build. A further winding makes the next build.');
        }
        return writeWinding(rowId(sql.addWinding.run(buildId)), null, null, fields);
      }),
    reviseWinding: (windingId, reason, fields) =>
      change(() => {
        const build = orNull(sql.buildOfWinding.get(windingId));
        const before = build?.windings.find((winding) => winding.windingId === windingId);
        if (build === null || before === undefined) return failed('not-found', 'This winding is not in the record.');
        const closed = build.hasRuns ? closedChanges(before.fields, fields) : [];
        if (closed[0] !== undefined) {
          return failed(
            'build-in-use',
            'A run was made on this build. What a measurement found out can still be added; a change of the winding makes the next build.',
            { path: `fields.${closed[0]}`, detail: closed },
          );
        }
        return writeWinding(windingId, before, reason, fields);
      }),
    get,
    listOf: (coreId) => sql.buildsOfCore.all(coreId).map(asBuild),
    ofWinding: (windingId) => orNull(sql.buildOfWinding.get(windingId)),
    windingHistory: (windingId) => sql.windingRows.all(windingId).map(asWinding),
  };
}
