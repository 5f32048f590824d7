import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { Plan, PlanFields, PlanVersion } from '../../src-shared/record/plan.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import { rowId, type Context, type RevisionRow } from './context.ts';

/** Plans for builds, version by version. Rows are never changed: a version names the one before it. */
export interface Plans {
  /**
   * A new plan with its first version. `not-found` when there is no such build or need, and when what it stood on is
   * not in the record of this build and its core.
   */
  add(buildId: number, fields: PlanFields): Outcome<PlanVersion>;
  /** A further version of the plan; why may be said. `not-found` as above, also when there is no such plan. */
  revise(planId: number, reason: string | null, fields: PlanFields): Outcome<PlanVersion>;
  /** The plan with all its versions, oldest first; null when there is no such plan. */
  get(planId: number): Plan | null;
  /** The version of that row number, of whichever plan; null when there is none. */
  version(revisionId: number): PlanVersion | null;
  /** The plans of all builds of the core, in the order in which they were made. */
  ofCore(coreId: number): readonly Plan[];
}

interface PlanRow {
  readonly plan_id: number;
  readonly build_id: number;
}

interface VersionRow extends RevisionRow {
  readonly plan_id: number;
}

const asVersion = (row: VersionRow, index: number): PlanVersion =>
  fromRow(
    PlanVersion,
    {
      planId: row.plan_id,
      revisionId: row.revision_id,
      number: index + 1,
      replaces: row.replaces,
      reason: row.reason,
      wallMs: row.wall_ms,
      fields: bodyValue(row.body),
    },
    `plan row ${row.revision_id}`,
  );

/** Everything that the plans ask of a connection. */
const statements = (database: Context['database']) => ({
  build: database.prepare<[number]>('SELECT 1 FROM build WHERE build_id = ?'),
  need: database.prepare<[number]>('SELECT 1 FROM need WHERE need_id = ?'),
  coreRow: database.prepare<[number, number]>(
    'SELECT 1 FROM core_revision JOIN build USING (core_id) WHERE revision_id = ? AND build_id = ?',
  ),
  windingRow: database.prepare<[number, number]>(
    'SELECT 1 FROM winding_revision JOIN winding USING (winding_id) WHERE revision_id = ? AND build_id = ?',
  ),
  result: database.prepare<[number, number]>('SELECT 1 FROM result WHERE result_id = ? AND build_id = ?'),
  addPlan: database.prepare<[number]>('INSERT INTO plan (build_id) VALUES (?)'),
  addVersion: database.prepare<[number, number | null, string | null, number, number | null, number, string]>(`
    INSERT INTO plan_revision (plan_id, replaces, reason, wall_ms, need_id, core_revision_id, body)
    VALUES (?, ?, ?, ?, ?, ?, ?)`),
  addWinding: database.prepare<[number, number]>('INSERT INTO plan_winding VALUES (?, ?)'),
  addResult: database.prepare<[number, number]>('INSERT INTO plan_result VALUES (?, ?)'),
  planOfVersion: database.prepare<[number], number>('SELECT plan_id FROM plan_revision WHERE revision_id = ?').pluck(),
  plan: database.prepare<[number], PlanRow>('SELECT * FROM plan WHERE plan_id = ?'),
  plansOfCore: database.prepare<[number], PlanRow>(
    'SELECT plan.* FROM plan JOIN build USING (build_id) WHERE core_id = ? ORDER BY plan_id',
  ),
  versions: database.prepare<[number], VersionRow>(
    'SELECT * FROM plan_revision WHERE plan_id = ? ORDER BY revision_id',
  ),
});

/** The plans over a connection. */
export function createPlans({ database, change, wallNow }: Context): Plans {
  const sql = statements(database);

  const asPlan = ({ plan_id: planId, build_id: buildId }: PlanRow): Plan =>
    fromRow(Plan, { planId, buildId, versions: sql.versions.all(planId).map(asVersion) }, `plan ${planId}`);

  /** What the plan names but the record of this build has not; null when all of it is there. */
  function missing(buildId: number, { needId, rests }: PlanFields) {
    if (sql.build.get(buildId) === undefined) return failed('not-found', 'This build is not in the record.');
    if (needId !== undefined && sql.need.get(needId) === undefined) {
      return failed('not-found', 'The need that the plan is for is not in the record.', { path: 'fields.needId' });
    }
    if (sql.coreRow.get(rests.coreRevisionId, buildId) === undefined) {
      return failed('not-found', 'The plan stands on another core than that of its build.', {
        path: 'fields.rests.coreRevisionId',
      });
    }
    const isOff = (statement: typeof sql.result) => (id: number) => statement.get(id, buildId) === undefined;
    if (rests.windingRevisionIds.some(isOff(sql.windingRow)) || rests.resultIds.some(isOff(sql.result))) {
      return failed('not-found', 'The plan stands on something that is not in the record of this build.', {
        path: 'fields.rests',
      });
    }
    return null;
  }

  function write(planId: number, before: PlanVersion | null, reason: string | null, fields: PlanFields, body: string) {
    const wallMs = wallNow();
    const replaces = before?.revisionId ?? null;
    const { needId = null, rests } = fields;
    const revisionId = rowId(sql.addVersion.run(planId, replaces, reason, wallMs, needId, rests.coreRevisionId, body));
    for (const id of new Set(rests.windingRevisionIds)) sql.addWinding.run(revisionId, id);
    for (const id of new Set(rests.resultIds)) sql.addResult.run(revisionId, id);
    return done<PlanVersion>({
      planId,
      revisionId,
      number: (before?.number ?? 0) + 1,
      replaces,
      reason,
      wallMs,
      fields,
    });
  }

  function keep(buildId: number, input: PlanFields, work: (fields: PlanFields, body: string) => Outcome<PlanVersion>) {
    const fields = checked(PlanFields, input);
    if (!fields.ok) return fields;
    const body = bodyText(fields.value);
    if (!body.ok) return body;
    return missing(buildId, fields.value) ?? work(fields.value, body.value);
  }

  const get = (planId: number): Plan | null => {
    const row = sql.plan.get(planId);
    return row === undefined ? null : asPlan(row);
  };

  return {
    add: (buildId, input) =>
      change(() =>
        keep(buildId, input, (fields, body) => write(rowId(sql.addPlan.run(buildId)), null, null, fields, body)),
      ),
    revise: (planId, reason, input) =>
      change(() => {
        const plan = get(planId);
        if (plan === null) return failed('not-found', 'This plan is not in the record.');
        const before = plan.versions.at(-1) ?? null;
        return keep(plan.buildId, input, (fields, body) => write(planId, before, reason, fields, body));
      }),
    get,
    version: (revisionId) => {
      const planId = sql.planOfVersion.get(revisionId);
      const plan = planId === undefined ? null : get(planId);
      return plan?.versions.find((version) => version.revisionId === revisionId) ?? null;
    },
    ofCore: (coreId) => sql.plansOfCore.all(coreId).map(asPlan),
  };
}
