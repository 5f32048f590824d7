import type { Check, ChecklistId } from './check.ts';
import { checkById, checklists, type CheckId } from './checks.ts';
import type { GuardState } from './state.ts';
import type { ProofKind } from './why.ts';

/** A check that the present set-up asks, and whether power waits for it. */
export interface Demand {
  readonly id: CheckId;
  readonly check: Check;
  readonly must: boolean;
}

/** The lists that take the place of the base where every volt is low. */
export const isLowVoltageList = (list: ChecklistId): boolean => list === 'T1' || list === 'P';

/** The checklists that count now, in the order of the screen. PD always does; T1 and P grow with the grade. */
const listsOf = (state: GuardState): readonly ChecklistId[] => {
  const lists: readonly ChecklistId[] = state.setUp?.checklists ?? [];
  const grown: readonly ChecklistId[] = lists.some(isLowVoltageList) && state.grade === 'base' ? ['T1-base'] : [];
  return ['PD', ...lists, ...grown];
};

/** Whether power waits for this check in this state. */
function isMust(state: GuardState, { weight }: Check): boolean {
  if (weight === 'must') return true;
  if (weight === 'should') return false;
  if (weight.circumstance === 'built-or-moved-since-power') return state.builtOrMovedSincePower;
  return !(state.setUp?.ruledOut.includes(weight.circumstance) ?? false);
}

/** Every check that the present set-up asks, each once, in the order of the lists. */
export function demands(state: GuardState): readonly Demand[] {
  const ids = new Set(listsOf(state).flatMap((list) => checklists[list]));
  return [...ids].flatMap((id) => {
    const check = checkById(id);
    return check === undefined ? [] : [{ id, check, must: isMust(state, check) }];
  });
}

/** What a person must have confirmed before the leads touch anything. */
export const beforeProof = ['pd-plug', 'pd-cap', 'pd-lead'] as const satisfies readonly CheckId[];

/**
 * The checks that each kind of proof stands on; it ends with the first of them. The low-voltage one stands on the plug
 * alone, and only in the grade `handful`; the one between points leaves the core and the windings unproved.
 */
export const proofChecks: Readonly<Record<ProofKind, readonly CheckId[]>> = {
  meter: [...beforeProof, 'pd-known1', 'pd-ln', 'pd-lc', 'pd-sec', 'pd-known2'],
  indicator: [...beforeProof, 'pd-known1', 'pd-ln', 'pd-lc', 'pd-sec', 'pd-known2'],
  'plug-out-low-volts': ['pd-plug'],
  'between-points': [...beforeProof, 'pd-known1', 'pd-ln'],
};

/** Checks that hold up *ready*: the musts that are answered before power, the proof's own apart. */
export function mustsBeforePower(state: GuardState): readonly Demand[] {
  const proof = new Set<CheckId>(checklists.PD);
  return demands(state).filter(({ id, must, check }) => must && check.when === 'before-power' && !proof.has(id));
}

/** The plug alone proves enough only here: a low-voltage test coil or polarity, every winding known and under the touch bound. */
export const plugWillDo = (state: GuardState): boolean =>
  state.grade === 'handful' && (state.setUp?.checklists.some(isLowVoltageList) ?? false);
