import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Build, BuildFields } from '../../src-shared/record/build.ts';
import { Core, CoreFields } from '../../src-shared/record/core.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import type { Builds } from './builds.ts';
import { rowId, type Context, type RevisionRow } from './context.ts';

/** The cores on the shelf. Rows are never changed: a correction is a further row. */
export interface Cores {
  /** Adds a core with its build 1, `as found`. `build` says more about that build than its title when it is known. */
  add(fields: CoreFields, build?: Partial<BuildFields>): Outcome<{ readonly core: Core; readonly build: Build }>;
  /** Writes a row that replaces the core's latest one, with the reason. `not-found` when there is no such core. */
  correct(coreId: number, reason: string, fields: CoreFields): Outcome<Core>;
  /** The latest row of the core; null when there is no such core. */
  get(coreId: number): Core | null;
  /** The latest row of every core, in the order in which they were added. */
  list(): readonly Core[];
  /** Every row that was ever written for the core, oldest first; empty when there is no such core. */
  history(coreId: number): readonly Core[];
}

interface CoreRow extends RevisionRow {
  readonly core_id: number;
}

const asCore = (row: CoreRow): Core =>
  fromRow(
    Core,
    {
      coreId: row.core_id,
      revisionId: row.revision_id,
      replaces: row.replaces,
      reason: row.reason,
      wallMs: row.wall_ms,
      fields: bodyValue(row.body),
    },
    `core row ${row.revision_id}`,
  );

/** The cores over a connection. `builds` adds build 1 in the same change. */
export function createCores({ database, change, wallNow }: Context, builds: Builds): Cores {
  const addCore = database.prepare('INSERT INTO core DEFAULT VALUES');
  const addRow = database.prepare<[number, number | null, string | null, number, string]>(
    'INSERT INTO core_revision (core_id, replaces, reason, wall_ms, body) VALUES (?, ?, ?, ?, ?)',
  );
  const latest = `
    SELECT * FROM core_revision AS row
    WHERE NOT EXISTS (SELECT 1 FROM core_revision AS later WHERE later.replaces = row.revision_id)`;
  const one = database.prepare<[number], CoreRow>(`${latest} AND core_id = ?`);
  const all = database.prepare<[], CoreRow>(`${latest} ORDER BY core_id`);
  const ofOne = database.prepare<[number], CoreRow>(
    'SELECT * FROM core_revision WHERE core_id = ? ORDER BY revision_id',
  );

  const get = (coreId: number): Core | null => {
    const row = one.get(coreId);
    return row === undefined ? null : asCore(row);
  };

  function write(coreId: number, replaces: number | null, reason: string | null, input: CoreFields): Outcome<Core> {
    const fields = checked(CoreFields, input);
    if (!fields.ok) return fields;
    const body = bodyText(fields.value);
    if (!body.ok) return body;
    const wallMs = wallNow();
    const revisionId = rowId(addRow.run(coreId, replaces, reason, wallMs, body.value));
    return done({ coreId, revisionId, replaces, reason, wallMs, fields: fields.value });
  }

  return {
    add: (fields, build = {}) =>
      change(() => {
        const core = write(rowId(addCore.run()), null, null, fields);
        if (!core.ok) return core;
        const asFound: BuildFields = { title: 'as found', joint: 'not-known', shunts: 'not-known', ...build };
        const first = builds.add(core.value.coreId, asFound, []);
        return first.ok ? done({ core: core.value, build: first.value }) : first;
      }),
    correct: (coreId, reason, fields) =>
      change(() => {
        const before = get(coreId);
        if (before === null) return failed('not-found', 'This core is not in the record.');
        return write(coreId, before.revisionId, reason, fields);
      }),
    get,
    list: () => all.all().map(asCore),
    history: (coreId) => ofOne.all(coreId).map(asCore),
  };
}
