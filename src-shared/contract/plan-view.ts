import * as v from 'valibot';
import { recordId } from '../record/field.ts';
import { PlanVersion } from '../record/plan.ts';
import { StaleMark } from '../record/plan-stale.ts';

/** A plan with all its versions, oldest first, and what changed under each since it was made; nothing while it stands. */
export const PlanWhole = v.strictObject({
  planId: recordId,
  buildId: recordId,
  versions: v.array(v.strictObject({ ...PlanVersion.entries, stale: v.array(StaleMark) })),
});
export type PlanWhole = v.InferOutput<typeof PlanWhole>;
