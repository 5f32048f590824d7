import { describe, expect, test } from 'vitest';
import { presetThresholds } from '../../../src-shared/interlock/bounds.ts';
import type { ProofInstrument, ProofResult } from '../../../src-shared/interlock/proof.ts';
import { proofSteps, ratingForProof } from '../../../src-shared/interlock/proof-steps.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { whyWords } from '../../../src-shared/interlock/why-words.ts';
import {
  arrange,
  at,
  goodResult,
  indicator,
  isolatedAt,
  mainsBench,
  mainsSetUp,
  meter,
  minute,
  openedSession,
  proofEvents,
  proofMeter,
  provedAt,
  reading,
  second,
  seen,
  ticks,
  walk,
} from './scene.ts';

const begun = (state = openedSession(), atMs = 0, instrument: ProofInstrument = proofMeter): GuardState =>
  arrange(state, ...ticks(atMs, ['pd-plug', 'pd-cap', 'pd-lead']), at(atMs, { kind: 'proof-started', instrument }));

/** Takes every step up to `index` as it should be, at one instant. */
const upTo = (state: GuardState, index: number, atMs = 0): GuardState =>
  arrange(
    state,
    ...(state.proofInProgress?.steps ?? [])
      .slice(0, index)
      .map((step, one) => at(atMs, { kind: 'proof-step', step: one, result: goodResult(step) })),
  );

const step = (state: GuardState, result: ProofResult, atMs = 0) =>
  reduce(state, at(atMs, { kind: 'proof-step', step: state.proofInProgress?.readings.length ?? 0, result }));

const volts = (value: number, coupling: 'ac' | 'dc' = 'ac', more: Partial<ProofResult> = {}): ProofResult => ({
  kind: 'volts',
  volts: value,
  coupling,
  meterId: 11,
  range: coupling === 'ac' ? 2 : 3,
  lowImpedance: false,
  ...more,
});

const points = (steps: ReturnType<typeof proofSteps>) =>
  steps.map(
    ({ point, coupling }) =>
      `${coupling} ${'pair' in point ? point.pair : 'label' in point ? point.label : point.kind}`,
  );

describe('a proof of dead', () => {
  test('reads known, every pair, each low-voltage winding, known: a.c. whole, then d.c. whole', () => {
    const circuit = ['L-N', 'L-core', 'N-core', 'secondary'];
    const round = (kind: string) => ['known1', ...circuit, 'known2'].map((point) => `${kind} ${point}`);
    expect(points(proofSteps(mainsBench, proofMeter))).toEqual([...round('ac'), ...round('dc')]);
    expect(points(proofSteps(mainsBench, indicator))).toEqual(round('both'));
  });

  test('leaves out the windings that no ordinary meter may touch: unknown, over 1000 V, over the meter’s rating', () => {
    const winding = (label: string, volt: number | null) => ({
      windingId: 9,
      label,
      role: 'other' as const,
      volts: volt,
      onPlug: false,
      oneEndOnCore: 'yes' as const,
    });
    const bench = {
      ...mainsBench,
      windings: [winding('unknown', null), winding('oven', 2100), winding('over', 560), winding('just', 540)],
    };
    const named = (maxVolts: number) =>
      new Set(
        proofSteps(bench, { ...proofMeter, maxVolts }).flatMap(({ point }) => ('label' in point ? [point.label] : [])),
      );
    expect(named(600)).toEqual(new Set(['just']));
    expect(named(4000)).toEqual(new Set(['just', 'over']));
  });

  test('isolates the bench after its last step, and says how', () => {
    const state = provedAt(openedSession(), 0);
    expect(state.kind).toBe('isolated');
    expect(state.why).toEqual({ code: 'proved', proof: 'meter' });
    expect(state.lastProof?.readings).toHaveLength(12);
    expect(state.checks['pd-ln']).toMatchObject({ how: 'proof', by: 'Ida' });
  });

  test('is not made one step early', () => {
    const state = upTo(begun(), 11);
    expect(state.kind).toBe('unproved');
    expect(step(state, volts(60, 'dc')).state.kind).toBe('isolated');
  });

  test('begins only when plug, capacitors and leads are confirmed', () => {
    const { refusal } = reduce(
      arrange(openedSession(), ...ticks(0, ['pd-plug'])),
      at(0, { kind: 'proof-started', instrument: proofMeter }),
    );
    expect(refusal).toEqual({ code: 'checks-first', checkIds: ['pd-cap', 'pd-lead'] });
  });

  test('needs an instrument that is rated for what the circuit could hold, supply +10 %', () => {
    expect(ratingForProof(mainsBench)).toBeCloseTo(253, 9);
    const started = (maxVolts: number | null) =>
      reduce(
        arrange(openedSession(), ...ticks(0, ['pd-plug', 'pd-cap', 'pd-lead'])),
        at(0, { kind: 'proof-started', instrument: { ...proofMeter, maxVolts } }),
      ).refusal?.code;
    expect([started(250), started(null), started(300)]).toEqual([
      'proof-meter-unrated',
      'proof-meter-unrated',
      undefined,
    ]);
  });

  test('needs known sources of at least five times the threshold', () => {
    const started = (knownAcVolts: number, knownDcVolts: number) =>
      reduce(
        arrange(openedSession(), ...ticks(0, ['pd-plug', 'pd-cap', 'pd-lead'])),
        at(0, { kind: 'proof-started', instrument: { ...proofMeter, knownAcVolts, knownDcVolts } }),
      ).refusal;
    expect(started(14.9, 60)).toEqual({ code: 'known-too-low', coupling: 'ac', volts: 14.9, lowestVolts: 15 });
    expect(started(15, 29)).toEqual({ code: 'known-too-low', coupling: 'dc', volts: 29, lowestVolts: 30 });
    expect(started(15, 30)).toBeNull();
  });

  test.each([
    ['another meter', { meterId: 12 }, 'another-meter'],
    ['another range', { range: 1 }, 'another-range'],
    ['a range that the meter chose', { range: null }, 'range-not-locked'],
    ['another kind', { coupling: 'dc', range: 3 }, 'another-coupling'],
    ['both kinds at once', { coupling: 'ac+dc' }, 'another-coupling'],
    ['the low-impedance input unasked', { lowImpedance: true }, 'low-impedance-not-asked'],
  ])('does not take a reading from %s', (_what, more, code) => {
    const state = begun();
    const { refusal, state: after } = step(state, volts(230, 'ac', more as Partial<ProofResult>));
    expect(refusal?.code).toBe(code);
    expect(after.proofInProgress?.readings).toHaveLength(0);
  });

  test('takes steps in order only', () => {
    const { refusal } = reduce(begun(), at(0, { kind: 'proof-step', step: 1, result: volts(0.1) }));
    expect(refusal).toEqual({ code: 'another-step', next: 0, sent: 1 });
  });

  test('takes no word of an indicator for a meter, and no meter for an indicator', () => {
    expect(step(begun(), { kind: 'nothing' }).refusal?.code).toBe('another-instrument');
    expect(step(begun(openedSession(), 0, indicator), volts(230)).refusal?.code).toBe('another-instrument');
  });

  test.each([
    ['10 % low', 207, true],
    ['more than 10 % low', 206.9, false],
    ['10 % high', 253, true],
    ['more than 10 % high', 253.1, false],
    ['dead', 0, false],
  ])('a known source that reads %s', (_what, value, passes) => {
    const { state } = step(begun(), volts(value));
    expect(state.proofInProgress !== null).toBe(passes);
    expect(state.why.code).toBe(passes ? 'session-opened' : 'proof-failed');
  });

  test('fails when the known source is not as declared afterwards: the meter may have died on the circuit', () => {
    const state = upTo(begun(isolatedAt()), 5);
    expect(state.kind).toBe('isolated');
    const { state: after, effects } = step(state, volts(0));
    expect(after.kind).toBe('unproved');
    expect(after.checks['pd-ln']).toBeUndefined();
    expect(after.lastProof?.endedAtMs).toBe(0);
    expect(whyWords(after.why)).toBe(
      'The known source read 0 V a.c. after the circuit, where 230 V was declared. The meter proves nothing until that is explained.',
    );
    expect(effects.some(({ kind }) => kind === 'alarm')).toBe(false);
  });

  test('fails with an alarm when volts stand on the circuit, whatever was proved before', () => {
    const { state, effects } = step(upTo(begun(isolatedAt()), 2), volts(231));
    expect(state.kind).toBe('unproved');
    expect(state.alarms).toMatchObject([{ code: 'volts-found', where: 'line to core', volts: 231 }]);
    expect(effects).toContainEqual({ kind: 'sound', sound: 'alarm' });
    expect(state.checks['pd-plug']).toBeUndefined();
  });

  test('counts a reading beyond the range, and one that is no number, as volts', () => {
    const state = upTo(begun(), 1);
    expect(step(state, { kind: 'overload', meterId: 11 }).state.why.code).toBe('proof-failed');
    expect(step(state, volts(Number.NaN)).state.why.code).toBe('proof-failed');
  });

  test.each([
    ['just under the a.c. threshold', 'ac', 2.99, 'taken'],
    ['on the a.c. threshold', 'ac', 3, 'explain'],
    ['just under the a.c. ceiling', 'ac', 24.9, 'explain'],
    ['on the a.c. ceiling', 'ac', 25, 'failed'],
    ['just under the d.c. threshold', 'dc', -5.99, 'taken'],
    ['on the d.c. threshold', 'dc', -6, 'explain'],
    ['just under the d.c. ceiling', 'dc', 59.9, 'explain'],
    ['on the d.c. ceiling', 'dc', -60, 'failed'],
  ] as const)('%s', (_what, coupling, value, outcome) => {
    const before = upTo(begun(), coupling === 'ac' ? 1 : 7);
    const { state } = step(before, volts(value, coupling));
    const got =
      state.proofInProgress === null ? 'failed' : state.proofInProgress.explainVolts === null ? 'taken' : 'explain';
    expect(got).toBe(outcome);
  });

  describe('with volts that may be pick-up', () => {
    const strayed = () => step(upTo(begun(), 1), volts(11)).state;

    test('asks for the same point again with the low-impedance input', () => {
      expect(strayed().proofInProgress).toMatchObject({ explainVolts: 11, readings: [{}] });
      expect(step(strayed(), volts(0.1)).refusal?.code).toBe('low-impedance-asked');
    });

    test('goes on when they vanish, and keeps what they were', () => {
      const { state } = step(strayed(), volts(0.1, 'ac', { lowImpedance: true, range: 0 }));
      expect(state.proofInProgress?.readings.at(-1)).toMatchObject({ strayVolts: 11, result: { volts: 0.1 } });
      expect(state.proofInProgress?.explainVolts).toBeNull();
    });

    test('fails when they stay', () => {
      const { state } = step(strayed(), volts(4, 'ac', { lowImpedance: true, range: 0 }));
      expect(state.why).toMatchObject({ code: 'proof-failed', failure: { code: 'volts-found', volts: 4 } });
    });

    test('fails at once when they rise to the ceiling meanwhile', () => {
      expect(step(strayed(), volts(30)).state.why.code).toBe('proof-failed');
    });
  });

  test('is given up when the circuit is read more than 5 minutes from the known source', () => {
    const known = step(begun(), volts(230)).state;
    expect(step(known, volts(0.1), 5 * minute).state.proofInProgress?.readings).toHaveLength(2);
    const late = step(known, volts(0.1), 5 * minute + 1);
    expect(late.refusal?.code).toBe('known-too-long-ago');
    expect(late.state.proofInProgress).toBeNull();
    expect(late.state.kind).toBe('unproved');
  });

  test('is given up when the known source is read again more than 5 minutes after the circuit', () => {
    const circuit = upTo(begun(), 5);
    expect(step(circuit, volts(230), 5 * minute + 1).refusal?.code).toBe('known-too-long-ago');
    expect(step(circuit, volts(230), 5 * minute).refusal).toBeNull();
  });

  test('is given up when nothing is read for ten minutes', () => {
    expect(walk(begun(), at(10 * minute, { kind: 'tick' })).state.proofInProgress).toBeNull();
  });

  test('is given up when meter, wiring or anything else is changed on the way', () => {
    for (const what of [
      'meter',
      'wiring',
      'supply',
      'winding',
      'moved',
      'load',
      'away',
      'hand-over',
      'plug',
    ] as const) {
      expect(arrange(upTo(begun(), 3), at(0, { kind: 'changed', what: [what] })).proofInProgress, what).toBeNull();
    }
  });

  test('is ended by volts on another meter’s channel', () => {
    const setUp = {
      ...mainsSetUp,
      channels: [...mainsSetUp.channels, { ...mainsSetUp.channels[0], id: 'line-volts', meter: meter(13) }],
    } as typeof mainsSetUp;
    const { state } = walk(upTo(begun(openedSession(setUp)), 3), seen(0, 'line-volts', reading(12)));
    expect(state.proofInProgress).toBeNull();
    expect(state.why.code).toBe('volts-seen');
  });

  test('lets its own meter read the known source without taking it for volts on the circuit', () => {
    const { state } = walk(upTo(begun(), 3), seen(0, 'primary-volts', reading(230)));
    expect(state.proofInProgress).not.toBeNull();
    expect(state.alarms).toEqual([]);
  });

  test('does not outlive what was confirmed before it: an old plug line lapses in the middle', () => {
    const state = arrange(
      openedSession(),
      ...ticks(0, ['pd-plug', 'pd-cap', 'pd-lead']),
      at(25 * minute, { kind: 'proof-started', instrument: proofMeter }),
      at(26 * minute, { kind: 'proof-step', step: 0, result: volts(230) }),
    );
    expect(walk(state, at(30 * minute - 1, { kind: 'tick' })).state.proofInProgress).not.toBeNull();
    const { state: after } = walk(state, at(30 * minute, { kind: 'tick' }));
    expect(after.lapsed['pd-plug']?.cause.kind).toBe('time');
    expect(after.proofInProgress).toBeNull();
  });

  test('cannot be doubled: one at a time', () => {
    expect(reduce(begun(), at(0, { kind: 'proof-started', instrument: proofMeter })).refusal?.code).toBe('proof-begun');
  });

  test('given up leaves everything as it was', () => {
    const before = isolatedAt();
    const after = arrange(begun(before), at(0, { kind: 'proof-abandoned' }));
    expect(after.kind).toBe('isolated');
    expect(after.lastProof).toEqual(before.lastProof);
  });

  test('with an indicator: lights, nothing, lights', () => {
    const state = provedAt(openedSession(), 0, indicator);
    expect(state.why).toEqual({ code: 'proved', proof: 'indicator' });
    expect(whyWords(state.why)).toContain('lights, nothing, lights');
    const dark = step(begun(openedSession(), 0, indicator), { kind: 'nothing' });
    expect(dark.state.why).toMatchObject({ failure: { code: 'indicator-dark', before: true } });
    const known = step(begun(openedSession(), 0, indicator), { kind: 'lights' }).state;
    expect(step(known, { kind: 'lights' }).state.alarms).toMatchObject([{ code: 'volts-found', volts: null }]);
  });

  test('does not count for a real session when the instrument is a practice one', () => {
    const practice = { ...proofMeter, practice: true };
    const ask = (isPractice: boolean) =>
      reduce(
        arrange(openedSession(mainsSetUp, isPractice), ...ticks(0, ['pd-plug', 'pd-cap', 'pd-lead'])),
        at(0, { kind: 'proof-started', instrument: practice }),
      ).refusal?.code;
    expect([ask(false), ask(true)]).toEqual(['practice-does-not-count', undefined]);
  });
});

describe('a proof that stands', () => {
  test('ages from its earliest reading of the circuit, 30 minutes', () => {
    const state = arrange(openedSession(), ...proofEvents(openedSession(), 0, proofMeter, 10 * second));
    expect(state.lastProof?.circuitAtMs).toBe(20 * second);
    const confirmed = arrange(state, ...ticks(2 * minute, ['pd-plug']));
    expect(walk(confirmed, at(20 * second + 30 * minute - 1, { kind: 'tick' })).state.kind).toBe('isolated');
    const lapsed = walk(confirmed, at(20 * second + 30 * minute, { kind: 'tick' })).state;
    expect(lapsed.kind).toBe('unproved');
    expect(lapsed.why).toMatchObject({
      code: 'lapsed',
      lapses: [{ checkId: 'pd-ln', cause: { kind: 'time', minutes: 30 } }],
    });
  });

  test('lapses without a sound while the bench is only isolated', () => {
    const { last } = walk(isolatedAt(), at(31 * minute, { kind: 'tick' }));
    expect(last.effects.map(({ kind }) => kind)).not.toContain('sound');
    expect(last.effects.map(({ kind }) => kind)).not.toContain('alarm');
  });

  test('keeps the hold that it was made under when that is the shorter one', () => {
    const longer = { ...presetThresholds, proofMinutes: 60 };
    const shorter = { ...presetThresholds, proofMinutes: 10 };
    const set = (thresholds: typeof longer) =>
      at(minute, { kind: 'thresholds-set', thresholds, reason: 'long winding' });
    const stretched = arrange(isolatedAt(), set(longer));
    expect(walk(stretched, at(31 * minute, { kind: 'tick' })).state.kind).toBe('unproved');
    const cut = arrange(isolatedAt(), set(shorter));
    expect(walk(cut, at(11 * minute, { kind: 'tick' })).state.kind).toBe('unproved');
  });

  test('does not stand under a threshold that one of its readings would not pass', () => {
    const events = proofEvents(openedSession(), 0).map((event) =>
      event.kind === 'proof-step' && event.step === 2 ? { ...event, result: volts(2.4) } : event,
    );
    const state = arrange(openedSession(), ...events);
    const set = (deadAcVolts: number) =>
      walk(state, at(0, { kind: 'thresholds-set', thresholds: { ...presetThresholds, deadAcVolts }, reason: null }))
        .state;
    expect([set(2.5).kind, set(2.4).kind]).toEqual(['isolated', 'unproved']);
  });
});
