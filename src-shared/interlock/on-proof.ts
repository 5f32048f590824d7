import type { CheckId } from './checks.ts';
import { beforeProof } from './demand.ts';
import type { Effect } from './effect.ts';
import type { GuardEvent, ProofStarted } from './event.ts';
import { lapseByEvents, mark } from './fresh.ts';
import type { LastProof, ProofInProgress, ProofReading } from './proof.ts';
import { isCircuit, judgeStep, knownTooLow, proofSteps, ratingForProof } from './proof-steps.ts';
import { isPowered, type GuardState } from './state.ts';
import {
  accept,
  raise,
  refuse,
  still,
  andThen,
  thenLapse,
  toIsolated,
  toUnproved,
  withoutProofMarks,
  type Turn,
} from './turn.ts';
import type { ProofFailure } from './why.ts';

type Of<K extends GuardEvent['kind']> = Extract<GuardEvent, { kind: K }>;

/** What a person confirmed before a proof and that does not stand. */
export const lackingBefore = (state: GuardState): readonly CheckId[] =>
  beforeProof.filter((id) => state.checks[id] === undefined);

/** A proof is begun. A proof that stands goes on standing until the new one is made or fails; ready ends at once. */
export function onProofStarted(state: GuardState, { instrument, by }: ProofStarted, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  if (state.proofInProgress !== null) return refuse(state, { code: 'proof-begun' });
  if (instrument.practice && !state.practice) return refuse(state, { code: 'practice-does-not-count' });
  const checkIds = lackingBefore(state);
  if (checkIds.length > 0) return refuse(state, { code: 'checks-first', checkIds });
  const { maxVolts } = instrument;
  const neededVolts = ratingForProof(state.bench);
  if (maxVolts === null || maxVolts < neededVolts) {
    return refuse(state, { code: 'proof-meter-unrated', maxVolts, neededVolts });
  }
  const tooLow = knownTooLow(instrument, state.thresholds);
  if (tooLow !== null) return refuse(state, tooLow);
  const proof: ProofInProgress = {
    begunAtMs: t,
    lastAtMs: t,
    by,
    instrument,
    steps: proofSteps(state.bench, instrument),
    readings: [],
    explainVolts: null,
  };
  const calm = state.kind === 'ready' ? toIsolated(state, t, { code: 'proof-begun' }, state.lastProof) : state;
  return accept({ ...calm, proofInProgress: proof });
}

/** One reading of a proof: taken, to be explained, or the end of it. After the last one the bench is isolated. */
export function onProofStep(state: GuardState, { step, result }: Of<'proof-step'>, t: number): Turn {
  const { proofInProgress: proof } = state;
  if (proof === null) return refuse(state, { code: 'no-proof-begun' });
  const outcome = judgeStep(proof, state.thresholds, step, result, t);
  switch (outcome.kind) {
    case 'refused': {
      const turn = refuse(state, outcome.refusal);
      // Too long since the known source: the rounds read so far prove nothing together, so the proof is given up.
      return outcome.refusal.code === 'known-too-long-ago'
        ? { ...turn, state: { ...state, proofInProgress: null } }
        : turn;
    }
    case 'explain':
      return accept({ ...state, proofInProgress: { ...proof, lastAtMs: t, explainVolts: outcome.volts } });
    case 'failed':
      return failedProof(state, outcome.failure, t);
    case 'taken': {
      const readings = [...proof.readings, outcome.reading];
      const going: ProofInProgress = { ...proof, lastAtMs: t, readings, explainVolts: null };
      return readings.length < proof.steps.length
        ? accept({ ...state, proofInProgress: going })
        : proved(state, going, t);
    }
  }
}

/** The person gives a proof up: nothing was gained or lost by it. */
export function onProofAbandoned(state: GuardState): Turn {
  if (state.proofInProgress === null) return refuse(state, { code: 'no-proof-begun' });
  return accept({ ...state, proofInProgress: null });
}

/** A failed proof: nothing is known, whatever was proved before. Volts that were found call the person. */
function failedProof(state: GuardState, failure: ProofFailure, t: number): Turn {
  const found = failure.code === 'volts-found';
  const { state: worn, lapses } = thenLapse(withoutProofMarks(state, t), (now) =>
    lapseByEvents(now, t, found ? ['volts'] : []),
  );
  const next = { ...toUnproved(worn, t, { code: 'proof-failed', failure }), series: null };
  return andThen(accept(next, [], lapses), (now) =>
    found ? raise(now, t, { code: 'volts-found', where: failure.where, volts: failure.volts }) : accept(now),
  );
}

const firstAt = (readings: readonly ProofReading[], which: (one: ProofReading) => boolean, otherwise: number): number =>
  readings.find(which)?.atMs ?? otherwise;

/** Every step was read: the lines that the proof decides stand from their earliest readings. */
function proved(state: GuardState, proof: ProofInProgress, t: number): Turn {
  const { readings, instrument, by } = proof;
  const circuitAtMs = firstAt(readings, isCircuit, t);
  const at = (which: (one: ProofReading) => boolean) => firstAt(readings, which, circuitAtMs);
  const marks: readonly (readonly [CheckId, number])[] = [
    ['pd-known1', at(({ point }) => point.kind === 'known1')],
    ['pd-ln', at(({ point }) => point.kind === 'pair' && point.pair === 'L-N')],
    ['pd-lc', at(({ point }) => point.kind === 'pair' && point.pair === 'L-core')],
    ['pd-sec', at(({ point }) => point.kind === 'winding')],
    ['pd-known2', at(({ point }) => point.kind === 'known2')],
  ];
  const lastProof: LastProof = {
    kind: instrument.kind,
    by,
    practice: state.practice,
    provedAtMs: t,
    circuitAtMs,
    holdMinutes: state.thresholds.proofMinutes,
    instrument,
    readings,
    endedAtMs: null,
  };
  return standing(
    { ...state, series: instrument.kind === 'meter' ? { meterId: instrument.meterId, provedAtMs: t } : null },
    lastProof,
    marks,
    t,
  );
}

/** The state in which a proof stands: its marks made, the alarms that it answers stilled. */
export function standing(
  state: GuardState,
  proof: LastProof,
  marks: readonly (readonly [CheckId, number])[],
  t: number,
): Turn {
  const made = marks.reduce(
    (now, [id, atMs]) => mark(now, id, { atMs, by: proof.by, how: 'proof', reason: null }),
    state,
  );
  const calm = still({ ...made, proofInProgress: null }, () => true);
  const effects = marks.map(([checkId]): Effect => ({
    kind: 'check',
    checkId,
    mark: 'seen-by-program',
    who: proof.by,
    lapse: null,
    reason: null,
  }));
  return accept(toIsolated(calm, t, { code: 'proved', proof: proof.kind }, proof), effects);
}
