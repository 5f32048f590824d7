import { done, failed } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { Plan } from '../../src-shared/record/plan.ts';
import { staleMarks } from '../../src-shared/record/plan-stale.ts';
import type { Services } from '../host/service.ts';
import { groundOf } from '../store/plan-ground.ts';
import type { Store } from '../store/store.ts';

type PlanServices = Pick<Services, 'plan.list' | 'plan.get' | 'plan.save' | 'tally.get' | 'tally.mark'>;

const noPlan = (planId: number) => failed('not-found', `There is no plan ${planId}.`, { path: 'planId' });

/** A plan with what changed under each version. */
function wholePlan(store: Store, { planId, buildId, versions }: Plan) {
  const ground = groundOf(store, buildId);
  return {
    planId,
    buildId,
    versions: versions.map((version) => ({ ...version, stale: [...staleMarks(version.fields, ground)] })),
  };
}

/** Answers about plans, and the count while winding. */
export function planServices(store: Store, push: (push: Push) => void): PlanServices {
  return {
    'plan.list': ({ coreId }) => done(store.plans.ofCore(coreId).map((plan) => wholePlan(store, plan))),

    'plan.get': ({ planId }) => {
      const plan = store.plans.get(planId);
      return plan === null ? noPlan(planId) : done(wholePlan(store, plan));
    },

    'plan.save': ({ planId, buildId, reason, fields }) => {
      const before = planId === undefined ? null : store.plans.get(planId);
      if (planId !== undefined && before === null) return noPlan(planId);
      if (before !== null && before.buildId !== buildId) {
        return failed('bad-input', 'This plan was made for another build.', { path: 'buildId' });
      }
      const saved =
        before === null ? store.plans.add(buildId, fields) : store.plans.revise(before.planId, reason ?? null, fields);
      if (!saved.ok) return saved;
      push({ kind: 'changed', what: 'plan', id: saved.value.planId });
      return done({ planId: saved.value.planId, revisionId: saved.value.revisionId });
    },

    'tally.get': ({ planId }) =>
      store.plans.get(planId) === null ? noPlan(planId) : done([...store.tallies.ofPlan(planId)]),

    'tally.mark': ({ planId, output, turns, pressedWallMs }) => {
      const marked = store.tallies.mark(planId, output, turns, pressedWallMs);
      if (marked.ok) push({ kind: 'changed', what: 'tally', id: planId });
      return marked;
    },
  };
}
