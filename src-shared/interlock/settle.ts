import { beforeProof, mustsBeforePower, plugWillDo, proofChecks } from './demand.ts';
import { quietChannels } from './silence.ts';
import { stands } from './ready.ts';
import type { GuardState } from './state.ts';
import { accept, toIsolated, toUnproved, type Turn } from './turn.ts';
import type { CheckId } from './checks.ts';
import type { Lapse } from './why.ts';

/**
 * Brings the state down to what still bears it, after time or an event has taken something away. It never raises one:
 * isolated needs its proof whole, ready needs every must, its limits and its meters.
 */
export function settle(state: GuardState, t: number): Turn {
  const proofKept = withoutBrokenProof(state);
  if (proofKept.kind !== 'isolated' && proofKept.kind !== 'ready') return accept(proofKept);
  if (proofKept.lastProof.kind === 'plug-out-low-volts' && !plugWillDo(proofKept)) {
    const { highest, grade } = proofKept;
    const why = grade === 'base' && highest !== null ? ({ code: 'grade-rose', highest } as const) : setUpChanged;
    return accept(toUnproved(proofKept, t, why));
  }
  const broken = proofChecks[proofKept.lastProof.kind].filter((id) => !stands(proofKept, id));
  if (broken.length > 0 || proofKept.lastProof.endedAtMs !== null) {
    const { proofInProgress } = proofKept;
    // A new proof under way does not depend on the old one.
    return accept({
      ...toUnproved(proofKept, t, { code: 'lapsed', lapses: lapsesOf(proofKept, broken) }),
      proofInProgress,
    });
  }
  if (proofKept.kind === 'isolated') return accept(proofKept);
  const missing = mustsBeforePower(proofKept).flatMap(({ id }) => (stands(proofKept, id) ? [] : [id]));
  if (missing.length > 0) {
    const why = { code: 'lapsed', lapses: lapsesOf(proofKept, missing) } as const;
    return accept(toIsolated(proofKept, t, why, proofKept.lastProof));
  }
  const [quiet] = quietChannels(proofKept, t);
  if (quiet === undefined) return accept(proofKept);
  const { id, label } = quiet.channel;
  return accept(
    toIsolated(
      proofKept,
      t,
      { code: 'meter-quiet', channel: id, label, seconds: quiet.seconds ?? 0 },
      proofKept.lastProof,
    ),
  );
}

/** A proof in progress needs what was confirmed before it. */
const withoutBrokenProof = (state: GuardState): GuardState =>
  state.proofInProgress !== null && beforeProof.some((id) => !stands(state, id))
    ? { ...state, proofInProgress: null }
    : state;

const lapsesOf = (state: GuardState, ids: readonly CheckId[]): readonly Lapse[] =>
  ids.flatMap((id) => state.lapsed[id] ?? []);

const setUpChanged = { code: 'set-up-changed' } as const;
