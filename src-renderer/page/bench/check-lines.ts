import { checklists, type CheckId } from '../../../src-shared/interlock/checks.ts';
import { demands, plugWillDo } from '../../../src-shared/interlock/demand.ts';
import { lapsesAtMs } from '../../../src-shared/interlock/fresh.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import type { Lapse } from '../../../src-shared/interlock/why.ts';

/** How a line of the list stands. `during` and `after`: it can only be answered with power on, or after it. */
export type Standing =
  | { readonly kind: 'open' }
  | { readonly kind: 'lapsed'; readonly lapse: Lapse }
  | { readonly kind: 'confirmed'; readonly atMs: number; readonly by: string; readonly lapsesAtMs: number | null }
  | { readonly kind: 'seen'; readonly atMs: number }
  | { readonly kind: 'passed-over'; readonly atMs: number; readonly reason: string | null };

export interface CheckLine {
  readonly id: CheckId;
  readonly text: string;
  readonly must: boolean;
  readonly when: 'before-power' | 'during' | 'after-power';
  /** Only the program can tick it. */
  readonly byProgram: boolean;
  readonly standing: Standing;
}

const ofProof = new Set<CheckId>(checklists.PD);

function standingOf(state: GuardState, id: CheckId, nowMs: number): Standing {
  const mark = state.checks[id];
  const lapse = state.lapsed[id];
  if (mark === undefined) return lapse === undefined ? { kind: 'open' } : { kind: 'lapsed', lapse };
  if (mark.how === 'passed-over') return { kind: 'passed-over', atMs: mark.atMs, reason: mark.reason };
  if (mark.how === 'program') return { kind: 'seen', atMs: mark.atMs };
  return { kind: 'confirmed', atMs: mark.atMs, by: mark.by, lapsesAtMs: lapsesAtMs(state, id, nowMs) };
}

const lineOf = (state: GuardState, nowMs: number, id: CheckId, must: boolean) => {
  const found = demands(state).find((demand) => demand.id === id);
  return found === undefined
    ? []
    : [
        {
          id,
          text: found.check.text,
          must,
          when: found.check.when,
          byProgram: found.check.decidedBy === 'program',
          standing: standingOf(state, id, nowMs),
        },
      ];
};

/** The lines of the set-up in the order of the lists; those of the proof of dead have a panel of their own. */
export const checkLines = (state: GuardState, nowMs: number): readonly CheckLine[] =>
  demands(state)
    .filter(({ id }) => !ofProof.has(id))
    .flatMap(({ id, must }) => lineOf(state, nowMs, id, must));

/** The ticks that a person gives before the leads touch anything; with low volts everywhere the plug alone. */
export function proofTicks(state: GuardState, nowMs: number): readonly CheckLine[] {
  const ids: readonly CheckId[] = plugWillDo(state) ? ['pd-plug'] : ['pd-plug', 'pd-cap', 'pd-lead'];
  return ids.flatMap((id) => lineOf(state, nowMs, id, true));
}

export const isAnswered = ({ standing }: CheckLine): boolean => standing.kind !== 'open' && standing.kind !== 'lapsed';

/** What the list comes to: how many lines are answered, and how many of those that power waits for are not. */
export function countOf(lines: readonly CheckLine[]): { answered: number; all: number; mustsLeft: number } {
  const before = lines.filter(({ when }) => when === 'before-power');
  return {
    answered: before.filter(isAnswered).length,
    all: before.length,
    mustsLeft: before.filter((line) => line.must && !isAnswered(line)).length,
  };
}
