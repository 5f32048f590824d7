import * as v from 'valibot';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { Tally } from '../../src-shared/record/plan.ts';
import { checked, fromRow } from './body.ts';
import type { Context } from './context.ts';
import type { Plans } from './plans.ts';

/** How far the windings of plans have come. Every mark is a row with the new total; the newest is the count. */
export interface Tallies {
  /**
   * Its time is when it was pressed, where that is given and not still to come; else now. `not-found` when there is no
   * such plan, or no version of it has such an output.
   */
  mark(planId: number, output: string, turns: number, pressedWallMs?: number): Outcome<Tally>;
  /** The newest mark of each output that has one, in the order of their keys. */
  ofPlan(planId: number): readonly Tally[];
}

interface TallyRow {
  readonly output: string;
  readonly turns: number;
  readonly wallMs: number;
}

const Marked = v.pick(Tally, ['output', 'turns']);

/** The tallies over a connection. */
export function createTallies({ database, change, wallNow }: Context, plans: Pick<Plans, 'get'>): Tallies {
  const add = database.prepare<[number, string, number, number]>(
    'INSERT INTO tally_mark (plan_id, output_key, turns, wall_ms) VALUES (?, ?, ?, ?)',
  );
  const newest = database.prepare<[number], TallyRow>(`
    SELECT output_key AS output, turns, wall_ms AS wallMs FROM tally_mark
    WHERE tally_mark_id IN (SELECT max(tally_mark_id) FROM tally_mark WHERE plan_id = ? GROUP BY output_key)
    ORDER BY output_key`);
  return {
    mark: (planId, output, turns, pressedWallMs = Infinity) =>
      change(() => {
        const marked = checked(Marked, { output, turns });
        if (!marked.ok) return marked;
        const versions = plans.get(planId)?.versions;
        if (versions === undefined) return failed('not-found', 'This plan is not in the record.', { path: 'planId' });
        if (!versions.some(({ fields }) => fields.outputs.some(({ key }) => key === output))) {
          return failed('not-found', 'No version of this plan has such an output.', { path: 'output' });
        }
        const wallMs = Math.min(pressedWallMs, wallNow());
        add.run(planId, output, turns, wallMs);
        return done({ output, turns, wallMs });
      }),
    ofPlan: (planId) => newest.all(planId).map((row) => fromRow(Tally, row, `tally of plan ${planId}`)),
  };
}
