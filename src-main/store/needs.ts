import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { Need, NeedFields } from '../../src-shared/record/need.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import { rowId, type Context, type RevisionRow } from './context.ts';

/** What projects ask for. Rows are never changed: a correction is a further row. */
export interface Needs {
  add(fields: NeedFields): Outcome<Need>;
  /** Writes a row that replaces the need's latest one, with the reason. `not-found`, also when it was retired. */
  revise(needId: number, reason: string, fields: NeedFields): Outcome<Need>;
  /** Takes the need off the list; plans made for it keep it. `not-found`, also when it was retired before. */
  retire(needId: number, reason: string): Outcome<Need>;
  /** The need's latest row, retired or not; null when there is no such need. */
  get(needId: number): Need | null;
  /** The latest row of every need that is not retired, in the order in which they were added. */
  list(): readonly Need[];
}

interface NeedRow extends RevisionRow {
  readonly need_id: number;
  readonly retired: number;
}

const asNeed = (row: NeedRow): Need =>
  fromRow(
    Need,
    {
      needId: row.need_id,
      revisionId: row.revision_id,
      replaces: row.replaces,
      reason: row.reason,
      wallMs: row.wall_ms,
      retired: row.retired === 1,
      fields: bodyValue(row.body),
    },
    `need row ${row.revision_id}`,
  );
const orNull = (row: NeedRow | undefined) => (row === undefined ? null : asNeed(row));

/** The needs over a connection. */
export function createNeeds({ database, change, wallNow }: Context): Needs {
  const addNeed = database.prepare('INSERT INTO need DEFAULT VALUES');
  const addRow = database.prepare<[number, number | null, string | null, number, number, string]>(
    'INSERT INTO need_revision (need_id, replaces, reason, wall_ms, retired, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const latest = `
    SELECT * FROM need_revision AS row
    WHERE NOT EXISTS (SELECT 1 FROM need_revision AS later WHERE later.replaces = row.revision_id)`;
  const one = database.prepare<[number], NeedRow>(`${latest} AND need_id = ?`);
  const listed = database.prepare<[], NeedRow>(`${latest} AND retired = 0 ORDER BY need_id`);

  function write(needId: number, before: Need | null, reason: string | null, input: NeedFields, retired: boolean) {
    const fields = checked(NeedFields, input);
    if (!fields.ok) return fields;
    const body = bodyText(fields.value);
    if (!body.ok) return body;
    const wallMs = wallNow();
    const replaces = before?.revisionId ?? null;
    const revisionId = rowId(addRow.run(needId, replaces, reason, wallMs, retired ? 1 : 0, body.value));
    return done<Need>({ needId, revisionId, replaces, reason, wallMs, retired, fields: fields.value });
  }

  const replace = (needId: number, work: (before: Need) => Outcome<Need>) =>
    change(() => {
      const before = orNull(one.get(needId));
      if (before === null || before.retired) return failed('not-found', 'This need is not on the list.');
      return work(before);
    });

  return {
    add: (fields) => change(() => write(rowId(addNeed.run()), null, null, fields, false)),
    revise: (needId, reason, fields) => replace(needId, (before) => write(needId, before, reason, fields, false)),
    retire: (needId, reason) => replace(needId, (before) => write(needId, before, reason, before.fields, true)),
    get: (needId) => orNull(one.get(needId)),
    list: () => listed.all().map(asNeed),
  };
}
