import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { MeterDescription } from '../../src-shared/meter/description.ts';
import { recordId, wallMs } from '../../src-shared/record/field.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import { rowId, type Context, type RevisionRow } from './context.ts';

/** One row of a meter's description. `retired`: this row takes the meter off the list; its description stays. */
const MeterRevision = v.strictObject({
  meterId: recordId,
  revisionId: recordId,
  /** The row that this one replaces; null for the first. */
  replaces: v.nullable(recordId),
  reason: v.nullable(v.string()),
  wallMs,
  description: MeterDescription,
  retired: v.boolean(),
});
export type MeterRevision = v.InferOutput<typeof MeterRevision>;

/** The meters, as described by the person. */
export interface Meters {
  /** Adds a meter. */
  add(description: MeterDescription): Outcome<MeterRevision>;
  /** Writes a row that replaces the meter's latest one. `not-found`, also when the meter was retired. */
  revise(meterId: number, reason: string | null, description: MeterDescription): Outcome<MeterRevision>;
  /** Takes the meter off the list; its runs keep its description. `not-found`, also when it was retired before. */
  retire(meterId: number, reason: string): Outcome<MeterRevision>;
  /** The meter's latest row, retired or not; null when there is no such meter. */
  get(meterId: number): MeterRevision | null;
  /** The description as it was: what a run's channel names. */
  revision(revisionId: number): MeterRevision | null;
  /** The latest row of every meter that is not retired, in the order in which they were added. */
  list(): readonly MeterRevision[];
}

interface MeterRow extends RevisionRow {
  readonly meter_id: number;
  readonly retired: number;
}

const asMeter = (row: MeterRow): MeterRevision =>
  fromRow(
    MeterRevision,
    {
      meterId: row.meter_id,
      revisionId: row.revision_id,
      replaces: row.replaces,
      reason: row.reason,
      wallMs: row.wall_ms,
      description: bodyValue(row.body),
      retired: row.retired === 1,
    },
    `meter row ${row.revision_id}`,
  );
const orNull = (row: MeterRow | undefined) => (row === undefined ? null : asMeter(row));

/** The meters over a connection. */
export function createMeters({ database, change, wallNow }: Context): Meters {
  const addMeter = database.prepare('INSERT INTO meter DEFAULT VALUES');
  const addRow = database.prepare<[number, number | null, string | null, number, number, string]>(
    'INSERT INTO meter_revision (meter_id, replaces, reason, wall_ms, retired, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const latest = `
    SELECT * FROM meter_revision AS row
    WHERE NOT EXISTS (SELECT 1 FROM meter_revision AS later WHERE later.replaces = row.revision_id)`;
  const one = database.prepare<[number], MeterRow>(`${latest} AND meter_id = ?`);
  const listed = database.prepare<[], MeterRow>(`${latest} AND retired = 0 ORDER BY meter_id`);
  const byRevision = database.prepare<[number], MeterRow>('SELECT * FROM meter_revision WHERE revision_id = ?');

  function write(
    meterId: number,
    replaces: number | null,
    reason: string | null,
    input: MeterDescription,
    retired: boolean,
  ) {
    const description = checked(MeterDescription, input);
    if (!description.ok) return description;
    const body = bodyText(description.value);
    if (!body.ok) return body;
    const wallMs = wallNow();
    const revisionId = rowId(addRow.run(meterId, replaces, reason, wallMs, retired ? 1 : 0, body.value));
    return done<MeterRevision>({
      meterId,
      revisionId,
      replaces,
      reason,
      wallMs,
      description: description.value,
      retired,
    });
  }

  function replace(meterId: number, work: (before: MeterRevision) => Outcome<MeterRevision>) {
    return change(() => {
      const before = orNull(one.get(meterId));
      if (before === null || before.retired) return failed('not-found', 'This meter is not on the list.');
      return work(before);
    });
  }

  return {
    add: (description) => change(() => write(rowId(addMeter.run()), null, null, description, false)),
    revise: (meterId, reason, description) =>
      replace(meterId, (before) => write(meterId, before.revisionId, reason, description, false)),
    retire: (meterId, reason) =>
      replace(meterId, (before) => write(meterId, before.revisionId, reason, before.description, true)),
    get: (meterId) => orNull(one.get(meterId)),
    revision: (revisionId) => orNull(byRevision.get(revisionId)),
    list: () => listed.all().map(asMeter),
  };
}
