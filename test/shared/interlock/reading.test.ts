import { describe, expect, test } from 'vitest';
import type { SeenReading } from '../../../src-shared/interlock/bench.ts';
import { coolingMayBegin } from '../../../src-shared/interlock/accept.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { alarmWords } from '../../../src-shared/interlock/words.ts';
import { whyWords } from '../../../src-shared/interlock/why-words.ts';
import {
  arrange,
  at,
  isolatedAt,
  liveAt,
  mainsSetUp,
  openedSession,
  provedAt,
  provingAt,
  reading,
  readyAt,
  second,
  seen,
  ticks,
  trippedAt,
  walk,
} from './scene.ts';

const notLive = { unproved: openedSession, isolated: isolatedAt, ready: readyAt, proving: provingAt };

describe.each(Object.entries(notLive))('volts seen while %s', (name, make) => {
  test.each<[string, SeenReading]>([
    ['on the a.c. threshold', reading(3)],
    ['on the d.c. threshold', reading(-6, 'V', 'dc')],
    ['of an unknown kind, on the lower threshold', reading(3, 'V', null)],
    ['beyond the range', { kind: 'overload', atLeast: 2, unit: 'V', coupling: 'ac' }],
    ['as an impossible number', reading(Number.NaN)],
  ])('%s: unproved, with an alarm', (_what, what) => {
    const { state, last } = walk(make(), seen(3 * second, 'primary-volts', what));
    expect(state.kind).toBe('unproved');
    expect(state.why).toMatchObject({ code: 'volts-seen', channel: 'primary-volts', was: name });
    expect(state.alarms).toMatchObject([{ code: 'volts-seen', heard: false }]);
    expect(last.effects.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['alarm', 'sound', 'record']));
    expect(last.acceptance).toEqual({ accepted: false, refusal: { code: 'power-not-declared' } });
    expect(state.checks['pd-plug']).toBeUndefined();
    expect(state.checks['pd-ln']).toBeUndefined();
  });

  test.each<[string, SeenReading]>([
    ['under the a.c. threshold', reading(2.99)],
    ['under the d.c. threshold', reading(5.99, 'V', 'dc')],
    ['unreadable', { kind: 'unreadable' }],
    ['in a wrong unit', reading(230, 'A')],
  ])('%s: nothing happens', (_what, what) => {
    const before = make();
    const { state } = walk(before, seen(3 * second, 'primary-volts', what));
    expect(state.kind).toBe(before.kind);
    expect(state.alarms).toEqual([]);
  });
});

describe('volts seen', () => {
  test('say what they are and that power was declared off', () => {
    const { state } = walk(provingAt(), seen(3 * second, 'primary-volts', reading(118)));
    expect(whyWords(state.why)).toBe('118 V on primary volts. Power was declared off. Do not touch.');
    expect(state.alarms.map(alarmWords)).toEqual([
      '118 V is still there, on primary volts. Do not touch. Switch off and unplug.',
    ]);
  });

  test('seen again call once, and keep the revision', () => {
    const first = walk(provingAt(), seen(3 * second, 'primary-volts', reading(118)));
    const again = walk(first.state, seen(4 * second, 'primary-volts', reading(117)));
    expect(again.state.revision).toBe(first.state.revision);
    expect(again.last.effects).toEqual([]);
    expect(again.state.alarms).toHaveLength(1);
  });

  test('stay an alarm until a proof is made, though the sound can be stilled', () => {
    const state = arrange(openedSession(), at(0, { kind: 'tick' }));
    const alarmed = walk(state, seen(second, 'primary-volts', reading(50))).state;
    const heard = arrange(alarmed, at(2 * second, { kind: 'alarm-heard' }));
    expect(heard.alarms).toMatchObject([{ code: 'volts-seen', heard: true }]);
    expect(provedAt(heard, 3 * second).alarms).toEqual([]);
  });

  test('are no matter while power is declared on', () => {
    expect(walk(liveAt(), seen(2 * second, 'primary-volts', reading(230))).state.alarms).toEqual([]);
    expect(walk(trippedAt(), seen(3 * second, 'primary-volts', reading(230))).state.kind).toBe('tripped');
  });
});

const live = liveAt();
const afterInrush = 10 * second;
const ampsAt = (state: GuardState, atMs: number, value: number) =>
  walk(state, seen(atMs - 1, 'primary-volts', reading(230)), seen(atMs, 'line-amps', reading(value, 'A')));
const unblanked = (): GuardState => {
  let state = live;
  for (let t = 1500; t <= afterInrush; t += 500) {
    state = arrange(state, seen(t, 'primary-volts', reading(230)), seen(t, 'line-amps', reading(0.7, 'A')));
  }
  return state;
};

describe('a limit', () => {
  test.each([
    [2, 'live'],
    [2.0001, 'tripped'],
    [-2.0001, 'tripped'],
  ])('of 2 A at %d A: %s', (value, kind) => {
    expect(ampsAt(unblanked(), afterInrush + 500, value).state.kind).toBe(kind);
  });

  test('that was crossed marks the run, calls, and says to switch off at the plug', () => {
    const { state, last } = ampsAt(unblanked(), afterInrush + 500, 3);
    const trip = {
      code: 'limit',
      channel: 'line-amps',
      label: 'line amps',
      unit: 'A',
      bound: 'max',
      value: 3,
      limit: 2,
    };
    expect(state.kind === 'tripped' && state.trip).toEqual(trip);
    expect(last.effects.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['record', 'check', 'run-tripped', 'alarm', 'sound']),
    );
    expect(state.alarms.map(alarmWords)).toEqual([
      'line amps reached 3 A, limit 2 A. Switch off at the plug now. Recording goes on.',
    ]);
    expect(last.acceptance).toEqual({ accepted: true, marked: false });
    expect(state.checks['b-fuse']).toBeUndefined();
  });

  describe('below which volts must not fall', () => {
    const steady = (): GuardState => {
      const state = unblanked();
      if (state.limits === null) throw new Error('Live has limits.');
      const channels = state.limits.channels.map((one) =>
        one.channel === 'primary-volts' ? { ...one, min: 207 } : one,
      );
      return { ...state, limits: { ...state.limits, channels } };
    };
    const volts = (value: number, later = 500) => seen(afterInrush + later, 'primary-volts', reading(value));

    test('trips on a line that sags', () => {
      expect(walk(steady(), volts(200)).state).toMatchObject({ kind: 'tripped', trip: { bound: 'min', limit: 207 } });
    });

    test('calls when the volts are gone, which pulling the plug does before it is said', () => {
      const { state } = walk(steady(), volts(0.1));
      expect(state.kind).toBe('live');
      expect(state.alarms.map(alarmWords)).toEqual([
        expect.stringMatching(/^primary volts: 0\.1 V, and power is declared on\. Did you pull the plug\?/),
      ]);
      expect(walk(state, volts(230, 1000)).state.alarms).toEqual([]);
      const off = walk(state, at(afterInrush + 1000, { kind: 'power-off' })).state;
      expect(off).toMatchObject({ kind: 'proving', alarms: [] });
    });
  });

  test('records on after a trip, marked', () => {
    const { last } = walk(trippedAt(), seen(3 * second, 'primary-volts', reading(40)));
    expect(last.acceptance).toEqual({ accepted: true, marked: true });
    expect(last.state.kind).toBe('tripped');
  });

  test('warns once before it trips, and again only after it fell below', () => {
    const warned = ampsAt(unblanked(), afterInrush + 500, 1.6);
    expect(warned.state.alarms).toMatchObject([{ code: 'warn', value: 1.6, limit: 1.5 }]);
    expect(ampsAt(warned.state, afterInrush + 1000, 1.7).last.effects).toEqual([]);
    const fallen = ampsAt(warned.state, afterInrush + 1500, 1.4);
    expect(fallen.state.alarms).toEqual([]);
    expect(ampsAt(fallen.state, afterInrush + 2000, 1.5).state.alarms).toHaveLength(1);
  });

  test('keeps one alarm from hiding another of the same channel', () => {
    const warned = ampsAt(unblanked(), afterInrush + 500, 1.6).state;
    const beyond = { kind: 'overload', atLeast: null, unit: 'A', coupling: 'ac' } as const;
    const { state } = walk(warned, seen(afterInrush + 1000, 'line-amps', beyond));
    expect(state.alarms.map(({ code }) => code)).toEqual(['warn', 'overload']);
  });

  test.each([
    ['the range is known to end above the limit', 600, 'tripped'],
    ['the range ends on the limit', 253, 'tripped'],
    ['the range ends below the limit', 200, 'live'],
    ['nobody knows the range', null, 'live'],
  ])('beyond the meter’s range: %s', (_what, atLeast, kind) => {
    const { state } = walk(
      unblanked(),
      seen(afterInrush + 500, 'primary-volts', { kind: 'overload', atLeast, unit: 'V', coupling: 'ac' }),
    );
    expect(state.kind).toBe(kind);
    expect(state.alarms).toMatchObject([{ code: kind === 'live' ? 'overload' : 'tripped' }]);
  });

  test('that nothing can be held against trips by silence: beyond the range is no answer', () => {
    let state = unblanked();
    for (let t = afterInrush + 500; t <= afterInrush + 6000; t += 500) {
      ({ state } = walk(
        state,
        seen(t, 'line-amps', reading(0.7, 'A')),
        seen(t, 'primary-volts', { kind: 'overload', atLeast: null, unit: 'V', coupling: 'ac' }),
      ));
    }
    expect(state.kind === 'tripped' && state.trip).toMatchObject({ code: 'silence', channel: 'primary-volts' });
  });

  test('below counts only once the channel has been above it: power is declared before the switch is thrown', () => {
    const limits = {
      ...mainsSetUp.proposed.limits,
      channels: mainsSetUp.proposed.limits.channels.map((one) =>
        one.channel === 'primary-volts' ? { ...one, min: 207 } : one,
      ),
    };
    const state = liveAt({ ...mainsSetUp, proposed: { ...mainsSetUp.proposed, limits } });
    const dark = walk(state, seen(1500, 'primary-volts', reading(0)), seen(2000, 'primary-volts', reading(0.2)));
    expect(dark.state.kind).toBe('live');
    const lit = walk(dark.state, seen(2500, 'primary-volts', reading(230)));
    expect(walk(lit.state, seen(3000, 'primary-volts', reading(207))).state.kind).toBe('live');
    expect(walk(lit.state, seen(3000, 'primary-volts', reading(206.9))).state.kind).toBe('tripped');
  });
});

describe('inrush', () => {
  const inrush = (atMs: number, value = 40) => walk(live, seen(atMs, 'line-amps', reading(value, 'A')));

  test('trips nothing for 2 s after power-on, and is recorded', () => {
    const { state, last } = inrush(second + 1999);
    expect(state.kind).toBe('live');
    expect(last.acceptance).toEqual({ accepted: true, marked: false });
  });

  test('is over after 2 s when the meter has given three readings', () => {
    const three = arrange(
      live,
      seen(second + 500, 'line-amps', reading(40, 'A')),
      seen(second + 1000, 'line-amps', reading(20, 'A')),
      seen(second + 1500, 'line-amps', reading(10, 'A')),
    );
    expect(walk(three, seen(second + 1999, 'line-amps', reading(5, 'A'))).state.kind).toBe('live');
    expect(walk(three, seen(second + 2000, 'line-amps', reading(5, 'A'))).state.kind).toBe('tripped');
  });

  test('of a slow meter covers its first three readings, but never more than 5 s', () => {
    expect(inrush(second + 3500).state.kind).toBe('live');
    expect(inrush(second + 4999).state.kind).toBe('live');
    expect(inrush(second + 5000).state.kind).toBe('tripped');
  });

  describe('with amps that are typed', () => {
    const typedAmps = {
      ...mainsSetUp,
      channels: mainsSetUp.channels.map((one) =>
        one.id === 'line-amps' && one.meter !== null ? { ...one, meter: { ...one.meter, typed: true } } : one,
      ),
    };
    const typedAt = (atMs: number, what: SeenReading) => walk(liveAt(typedAmps), seen(atMs, 'line-amps', what)).state;
    const tick = (atMs: number) => at(atMs, { kind: 'tick' });

    test('holds the last value against the limit when it is over, though nothing else comes', () => {
      const typed = typedAt(second + 1500, reading(40, 'A'));
      const before = walk(typed, tick(second + 1999));
      expect(before.state.kind).toBe('live');
      const { state, last } = walk(before.state, tick(second + 2000));
      expect(state.kind === 'tripped' && state.trip).toMatchObject({ channel: 'line-amps', value: 40, limit: 2 });
      expect(last.effects.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['run-tripped', 'alarm', 'sound']));
    });

    test.each([
      ['of several the last', [40, 0.7], 'live', []],
      ['one that only warns', [1.6], 'live', ['warn']],
      ['one under the limit', [0.7], 'live', []],
    ])('judges %s', (_what, values, kind, alarms) => {
      const typed = walk(
        liveAt(typedAmps),
        ...values.map((value, index) => seen(second + 1000 + index * 100, 'line-amps', reading(value, 'A'))),
      ).state;
      const { state } = walk(typed, tick(second + 2250), tick(second + 2500));
      expect(state.kind).toBe(kind);
      expect(state.alarms.map(({ code }) => code)).toEqual(alarms);
    });

    test('calls for a value that was beyond the range', () => {
      const typed = typedAt(second + 1000, { kind: 'overload', atLeast: 10, unit: 'A', coupling: 'ac' });
      expect(walk(typed, tick(second + 2000)).state.alarms).toMatchObject([{ code: 'overload', channel: 'line-amps' }]);
    });

    test('does not judge what was typed before power', () => {
      const early = walk(readyAt(typedAmps), seen(500, 'line-amps', reading(40, 'A'))).state;
      const on = arrange(
        early,
        at(500, { kind: 'power-on-begun' }),
        at(500 + second, { kind: 'power-on-confirmed' }),
        tick(3 * second),
      );
      expect(walk(on, tick(4 * second)).state.kind).toBe('live');
    });
  });

  test('is no excuse for volts', () => {
    expect(walk(live, seen(second + 500, 'primary-volts', reading(260))).state.kind).toBe('tripped');
  });

  test('of the next power-on is blanked anew', () => {
    const again = liveAt(mainsSetUp, 20 * second);
    expect(walk(again, seen(22 * second, 'line-amps', reading(40, 'A'))).state.kind).toBe('live');
  });
});

describe('a wrong unit', () => {
  test('is refused with both units, and counts as silence', () => {
    const { refusal, acceptance } = reduce(live, seen(2 * second, 'line-amps', reading(230, 'V')));
    expect(refusal).toEqual({ code: 'wrong-unit', channel: 'line amps', sent: 'V', asked: 'A' });
    expect(acceptance).toEqual({ accepted: false, refusal });
    let state = live;
    for (let t = 1500; t <= 6500; t += 500) {
      ({ state } = walk(state, seen(t, 'primary-volts', reading(230)), seen(t, 'line-amps', reading(0.5, 'V'))));
    }
    expect(state.kind === 'tripped' && state.trip).toMatchObject({ code: 'silence', channel: 'line-amps' });
  });
});

describe('a meter set to d.c. on an a.c. channel', () => {
  const setUp = {
    ...mainsSetUp,
    channels: mainsSetUp.channels.map((one) =>
      one.id === 'primary-volts' ? { ...one, coupling: 'ac' as const } : one,
    ),
  };
  const dc = (value: number) => reading(value, 'V', 'dc');

  test('is refused with both kinds', () => {
    const { refusal, acceptance } = reduce(liveAt(setUp), seen(2 * second, 'primary-volts', dc(0)));
    expect(refusal).toEqual({ code: 'wrong-unit', channel: 'primary volts', sent: 'V dc', asked: 'V ac' });
    expect(acceptance).toEqual({ accepted: false, refusal });
  });

  test('counts as silence with power on: its 0 V says nothing about a.c.', () => {
    let state = liveAt(setUp);
    for (let t = 1500; t <= 6500; t += 500) {
      ({ state } = walk(state, seen(t, 'primary-volts', dc(0)), seen(t, 'line-amps', reading(0.5, 'A'))));
    }
    expect(state.kind === 'tripped' && state.trip).toMatchObject({ code: 'silence', channel: 'primary-volts' });
  });

  test('shows no fall of the feed', () => {
    const { state } = walk(
      provingAt(setUp),
      ...ticks(3 * second, ['pd-plug']),
      seen(4 * second, 'primary-volts', dc(0)),
    );
    expect(coolingMayBegin(state)).toBe(false);
  });

  test('is listened to all the same: volts are volts', () => {
    for (const make of [openedSession, isolatedAt, readyAt, provingAt]) {
      const { state, last } = walk(make(setUp), seen(3 * second, 'primary-volts', dc(170)));
      expect(state.kind).toBe('unproved');
      expect(state.why).toMatchObject({ code: 'volts-seen', coupling: 'dc', thresholdVolts: 6 });
      expect(last.effects).toContainEqual({ kind: 'sound', sound: 'alarm' });
      expect(last.refusal?.code).toBe('wrong-unit');
    }
  });
});
