import { assertNever } from '../quantity/assert-never.ts';
import type { Check } from './check.ts';
import { checkById, type CheckId } from './checks.ts';
import { beforeProof, demands, mustsBeforePower, plugWillDo, proofChecks } from './demand.ts';
import { lapsesAtMs } from './fresh.ts';
import { quietChannels } from './silence.ts';
import type { GuardState } from './state.ts';
import { lapseWords } from './words.ts';

/** How a missing line is made good. */
export type How =
  /** A person confirms it. */
  | 'tick'
  /** The program ticks it when it sees it. */
  | 'seen by program'
  /** It is read with a meter or an indicator, as a step of the proof. */
  | 'read';

/** One line that stands between the present state and *ready*. */
export interface Missing {
  /** A check, or what is missing besides: the session, the set-up, the limits, a meter. */
  readonly id: CheckId | 'session' | 'set-up' | 'limits' | `meter:${string}`;
  readonly text: string;
  /** Why it is asked: never confirmed, or when and why it lapsed. */
  readonly why: string;
  /** When it lapsed, on the guard's clock; null when it never stood. */
  readonly lapsedAtMs: number | null;
  readonly how: How;
}

const howFor = ({ decidedBy }: Check): How => {
  switch (decidedBy) {
    case 'person':
      return 'tick';
    case 'program':
      return 'seen by program';
    case 'proof':
      return 'read';
    default:
      return assertNever(decidedBy);
  }
};

function missingCheck(state: GuardState, id: CheckId): Missing {
  const check = checkById(id);
  const lapsed = state.lapsed[id];
  return {
    id,
    text: check?.text ?? id,
    why:
      lapsed !== undefined
        ? lapseWords(lapsed)
        : state.checks[id] === undefined
          ? 'never confirmed'
          : 'no proof stands',
    lapsedAtMs: lapsed?.atMs ?? null,
    how: check === undefined ? 'tick' : howFor(check),
  };
}

/** A must stands when somebody confirmed it or the program saw it: passed over it does not. */
export const stands = (state: GuardState, id: CheckId): boolean => {
  const mark = state.checks[id];
  return mark !== undefined && mark.how !== 'passed-over';
};

const isProved = (state: GuardState): boolean => state.kind === 'isolated' || state.kind === 'ready';

/** The lines of the proof that do not stand, for the proof that would do here. Empty while a proof stands. */
function missingProof(state: GuardState): readonly CheckId[] {
  if (isProved(state)) return [];
  const low = plugWillDo(state);
  return proofChecks[low ? 'plug-out-low-volts' : 'meter'].filter(
    // A reading of an earlier proof proves nothing now, even where its own line has not lapsed.
    (id) => !beforeProof.some((one) => one === id) || !stands(state, id) || low,
  );
}

/** Everything that stands between this state and *ready*, in the order in which it is done. Empty: ready may be asked. */
export function missingForReady(state: GuardState): readonly Missing[] {
  const other = (id: Missing['id'], text: string, why: string, how: How): Missing => ({
    id,
    text,
    why,
    lapsedAtMs: null,
    how,
  });
  if (state.sessionId === null) return [other('session', 'A session is open.', 'none is open', 'tick')];
  if (state.setUp === null) {
    return [other('set-up', 'A procedure is chosen and its channels are filled.', 'none is chosen', 'tick')];
  }
  const checks = [
    ...missingProof(state),
    ...mustsBeforePower(state).flatMap(({ id }) => (stands(state, id) ? [] : [id])),
  ].map((id) => missingCheck(state, id));
  const limits =
    state.limits === null ? [other('limits', 'The limits are read and set.', 'not set for this set-up', 'tick')] : [];
  const meters = quietChannels(state, state.watch.nowMs).map(({ channel, seconds }) =>
    other(
      `meter:${channel.id}`,
      `${channel.label}: its meter answers.`,
      seconds === null ? 'nothing was heard from it' : `quiet for ${Math.round(seconds)} s`,
      'seen by program',
    ),
  );
  return [...checks, ...limits, ...meters];
}

/** Shoulds that were neither confirmed nor passed over: shown, never in the way. */
export const unansweredShoulds = (state: GuardState): readonly Missing[] =>
  demands(state).flatMap(({ id, check, must }) =>
    !must && check.when === 'before-power' && state.checks[id] === undefined ? [missingCheck(state, id)] : [],
  );

/** What lapses next by time alone, and when on the guard's clock; null when nothing does. */
export interface NextLapse {
  readonly id: CheckId | 'run-time';
  readonly text: string;
  readonly atMs: number;
}

/**
 * What lapses next: of the lines that the present state stands on. With power on, the run's time and the musts that
 * are asked again; a proof has ended with power on and is not counted.
 */
export function lapsesNext(state: GuardState): NextLapse | null {
  const t = state.watch.nowMs;
  const proof = isProved(state) && state.lastProof !== null ? proofChecks[state.lastProof.kind] : [];
  const ids = [...proof, ...mustsBeforePower(state).map(({ id }) => id)];
  const found = ids.flatMap((id): readonly NextLapse[] => {
    const atMs = lapsesAtMs(state, id, t);
    return atMs === null ? [] : [{ id, text: checkById(id)?.text ?? id, atMs }];
  });
  if (state.kind === 'live' && state.limits.runSeconds !== null) {
    found.push({
      id: 'run-time',
      text: 'Time with power on',
      atMs: state.power.onAtMs + state.limits.runSeconds * 1000,
    });
  }
  return found.reduce<NextLapse | null>((first, one) => (first === null || one.atMs < first.atMs ? one : first), null);
}
