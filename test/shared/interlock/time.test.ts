import { describe, expect, test } from 'vitest';
import { presetThresholds } from '../../../src-shared/interlock/bounds.ts';
import type { CheckId } from '../../../src-shared/interlock/checks.ts';
import { lapsesAtMs } from '../../../src-shared/interlock/fresh.ts';
import { restartedFrom } from '../../../src-shared/interlock/restart.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { guardAtFirst } from '../../../src-shared/interlock/state.ts';
import { alarmWords } from '../../../src-shared/interlock/words.ts';
import {
  arrange,
  at,
  isolatedAt,
  liveAt,
  lowSetUp,
  mainsBench,
  minute,
  openedSession,
  provingAt,
  readyAt,
  reading,
  second,
  seen,
  ticks,
  trippedAt,
  walk,
} from './scene.ts';

describe('lapses', () => {
  test('are told in the order of the lists, whatever the order in which the lines were confirmed', () => {
    const state = arrange(openedSession(), ...ticks(0, ['b-people', 'pd-plug', 'b-place']));
    const { effects } = reduce(state, at(1, { kind: 'slept', sleptMs: 48 * 60 * minute }));
    const told = effects.flatMap((effect) => (effect.kind === 'check' ? [effect.checkId] : []));
    expect(told).toEqual(['pd-plug', 'b-place', 'b-people']);
  });
});

describe('a restart', () => {
  const session = { sessionId: 7, practice: false, bench: mainsBench };
  const states = [openedSession(), isolatedAt(), readyAt(), liveAt(), trippedAt(), provingAt()];

  test.each(states.map((state) => [state.kind, state] as const))(
    'from %s: unproved, showing what it was',
    (kind, state) => {
      const stored: unknown = JSON.parse(JSON.stringify(state));
      const { state: after, effects } = reduce(guardAtFirst(0), restartedFrom(stored, session, 5));
      expect(after).toMatchObject({
        kind: 'unproved',
        why: { code: 'restarted', was: kind },
        sessionId: 7,
        checks: {},
      });
      expect(after.lastProof).toBeNull();
      expect(effects.some((effect) => effect.kind === 'alarm')).toBe(kind === 'live' || kind === 'tripped');
    },
  );

  test('counts the revision on, so that a page from before is stale', () => {
    const before = liveAt();
    const { state } = reduce(guardAtFirst(0), restartedFrom(before, session, 5));
    expect(state.revision).toBe(before.revision + 1);
  });

  test('after live says what to do', () => {
    const { state } = reduce(guardAtFirst(0), restartedFrom(liveAt(), session, 5));
    expect(state.alarms.map(alarmWords)).toEqual([
      'The program stopped while power was declared on. Nothing is known now. Look at the plug, then prove it dead.',
    ]);
  });

  test.each([
    null,
    7,
    'x',
    {},
    { kind: 'safe' },
    { ...isolatedAt(), thresholds: { ...presetThresholds, deadAcVolts: 400 } },
  ])('reads nothing good into what it cannot read: %j', (stored) => {
    const event = restartedFrom(stored, null, 5);
    expect(event.thresholds).toEqual(presetThresholds);
    expect(reduce(guardAtFirst(0), event).state).toMatchObject({ kind: 'unproved', sessionId: null });
  });

  test('keeps what makes the guard stricter: thresholds and a magnetised core', () => {
    const state = arrange(
      isolatedAt(),
      at(0, { kind: 'thresholds-set', thresholds: { ...presetThresholds, proofMinutes: 10 }, reason: null }),
      at(0, { kind: 'core-state', magnetised: true }),
    );
    const { state: after } = reduce(guardAtFirst(0), restartedFrom(state, session, 5));
    expect(after.thresholds.proofMinutes).toBe(10);
    expect(after.coreMagnetised).toBe(true);
    expect(after.builtOrMovedSincePower).toBe(true);
  });
});

describe('the clock', () => {
  test('a stamp a little out of order counts for the latest instant', () => {
    const state = arrange(isolatedAt(), at(10 * second, { kind: 'tick' }), at(9.5 * second, { kind: 'tick' }));
    expect(state.watch.nowMs).toBe(10 * second);
    expect(state.kind).toBe('isolated');
  });

  test.each([isolatedAt(), readyAt(), isolatedAt(lowSetUp)])(
    'set back ends what was proved: nobody knows its age',
    (from) => {
      const state = arrange(from, at(60 * second, { kind: 'tick' }), at(10 * second, { kind: 'tick' }));
      expect(state.kind).toBe('unproved');
      expect(state.why).toEqual({ code: 'clock-stepped', backMs: 50 * second });
      expect(state.checks['b-place']).toBeUndefined();
    },
  );

  test('set back with power on keeps the length of the run, and says so', () => {
    let state = liveAt();
    for (let t = 2 * second; t <= 100 * second; t += second) {
      state = arrange(state, seen(t, 'primary-volts', reading(230)), seen(t, 'line-amps', reading(0.5, 'A')));
    }
    const back = arrange(state, at(40 * second, { kind: 'tick' }));
    expect(back.kind).toBe('live');
    expect(back.alarms).toMatchObject([{ code: 'clock' }]);
    const later = arrange(
      back,
      seen(44 * second, 'primary-volts', reading(230)),
      seen(44 * second, 'line-amps', reading(0.5, 'A')),
      at(48 * second, { kind: 'tick' }),
    );
    expect(later.kind).toBe('live');
    const { state: over } = walk(
      later,
      ...[48, 52, 56, 60].flatMap((t) => [
        seen(t * second, 'primary-volts', reading(230)),
        seen(t * second, 'line-amps', reading(0.5, 'A')),
      ]),
      at(61 * second, { kind: 'tick' }),
    );
    expect(over.kind === 'tripped' && over.trip).toMatchObject({ code: 'run-time' });
  });

  test('far ahead lets everything lapse', () => {
    const { state } = walk(readyAt(), at(48 * 60 * minute, { kind: 'power-on-begun' }));
    expect(state.kind).toBe('unproved');
    expect(state.hold).toBeNull();
    expect(state.checks['b-cover']).toBeUndefined();
    expect(state.checks['b-rcd']).toBeUndefined();
  });

  test('of no number stands still', () => {
    const { state } = walk(isolatedAt(), at(Number.NaN, { kind: 'tick' }), at(Infinity, { kind: 'tick' }));
    expect(state.kind).toBe('isolated');
    expect(state.watch.nowMs).toBe(0);
  });
});

describe('the age of a line', () => {
  /** Live since 1 s, looked at after 61 s, every line made at 0 s: when it lapses. */
  const lapsesAt = (id: CheckId) => {
    const made = { atMs: 0, by: 'Ida', how: 'person', reason: null, liveMs: 0 } as const;
    return lapsesAtMs({ ...liveAt(), checks: { [id]: made } }, id, 61 * second);
  };

  test('of a proof does not count the time that power was declared on', () => {
    expect(lapsesAt('pd-plug')).toBe(30 * minute + 60 * second);
    expect(lapsesAt('pd-ln')).toBe(30 * minute + 60 * second);
  });

  test('of everything else does', () => {
    expect(lapsesAt('b-place')).toBe(60 * minute);
    expect(lapsesAt('b-cover')).toBe(12 * 60 * minute);
    expect(lapsesAt('b-rcd')).toBe(24 * 60 * minute);
  });

  test('of what stands until an event has no end', () => {
    expect(lapsesAt('pd-cap')).toBeNull();
  });
});

describe('a computer that slept', () => {
  const slept = (ms: number, atMs = 10 * minute) => at(atMs, { kind: 'slept', sleptMs: ms });

  test('a moment ages what stands by that moment', () => {
    const state = arrange(isolatedAt(), slept(50 * second));
    expect(state.kind).toBe('isolated');
    expect(walk(state, at(29 * minute + 9 * second, { kind: 'tick' })).state.kind).toBe('isolated');
    expect(walk(state, at(29 * minute + 10 * second, { kind: 'tick' })).state.kind).toBe('unproved');
  });

  test('a minute listened to nothing: the proof is over, and so are the lines that end by leaving', () => {
    const { state } = walk(isolatedAt(), slept(minute, 0));
    expect(state.kind).toBe('unproved');
    expect(state.lapsed['pd-plug']?.cause).toEqual({ kind: 'event', event: 'away' });
  });

  test('with power on for longer than a meter may be silent: trips', () => {
    expect(walk(liveAt(), slept(5 * second, 2 * second)).state.kind).toBe('live');
    const { state } = walk(liveAt(), slept(6 * second, 2 * second));
    expect(state.kind === 'tripped' && state.trip).toEqual({ code: 'slept', seconds: 6 });
  });

  test('for no number of milliseconds is no event', () => {
    for (const ms of [Number.NaN, -1]) expect(reduce(isolatedAt(), slept(ms, 0)).refusal?.code).toBe('out-of-bounds');
  });
});

describe('a program that was held up', () => {
  const heldUp = (ms: number, atMs: number) => at(atMs, { kind: 'held-up', heldUpMs: ms });
  const live = () => arrange(liveAt(), seen(2 * second, 'primary-volts', reading(230)));
  const amps = (atMs: number) => seen(atMs, 'line-amps', reading(0.5, 'A'));

  test('holds no silence against a meter whose lines wait to be read', () => {
    expect(walk(live(), amps(7.5 * second)).state.kind).toBe('tripped');
    const { state } = walk(live(), heldUp(4 * second, 2.5 * second), amps(7.5 * second));
    expect(state.kind).toBe('live');
    expect(walk(state, seen(7.5 * second, 'primary-volts', reading(231))).state.kind).toBe('live');
  });

  test('trips on silence from then on', () => {
    const { state } = walk(
      live(),
      heldUp(4 * second, 2.5 * second),
      amps(7.5 * second),
      amps(10 * second),
      amps(11.1 * second),
    );
    expect(state.kind === 'tripped' && state.trip).toMatchObject({ code: 'silence', channel: 'primary-volts' });
  });

  test('for no number of milliseconds, or for longer than a sleep, is no event', () => {
    for (const ms of [Number.NaN, -1, 61 * second]) {
      expect(reduce(live(), heldUp(ms, 2 * second)).refusal?.code).toBe('out-of-bounds');
    }
  });
});
