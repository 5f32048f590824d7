import { describe, expect, test } from 'vitest';
import type { ChannelFacts, SetUp } from '../../../src-shared/interlock/bench.ts';
import type { Limits } from '../../../src-shared/interlock/limit.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { silenceLimitSeconds } from '../../../src-shared/interlock/silence.ts';
import { arrange, at, channel, liveAt, mainsSetUp, meter, reading, readyAt, second, seen, walk } from './scene.ts';

const none = { min: null, max: null, warn: null, risePerMinute: null };

/** A set-up with these channels, the volts limited and the rest not unless said. */
const withChannels = (channels: readonly ChannelFacts[], limited: readonly string[] = ['primary-volts']): SetUp => {
  const limits: Limits = {
    channels: limited.map((id) => ({ channel: id, ...none, max: 253 })),
    runSeconds: null,
    silenceSeconds: 5,
    typedSeconds: 20,
  };
  return { ...mainsSetUp, channels, proposed: { limits, ceilings: [] } };
};

const volts = channel('primary-volts', { meter: meter(11) });
const tick = (seconds: number) => at(second + seconds * second, { kind: 'tick' });
const heard = (state: GuardState, seconds: number, id = 'primary-volts') =>
  arrange(state, seen(second + seconds * second, id, reading(230)));

describe('a meter that falls silent with power on', () => {
  test('trips when it is the only one on a limited channel', () => {
    const state = liveAt(withChannels([volts]));
    expect(walk(state, tick(5)).state.kind).toBe('live');
    const { state: after } = walk(state, tick(5.001));
    expect(after.kind === 'tripped' && after.trip).toMatchObject({
      code: 'silence',
      channel: 'primary-volts',
      source: 'meter',
      limitSeconds: 5,
    });
  });

  test('only calls when its channel has no limit, and is quiet again once it answers', () => {
    const loose = channel('line-volts', { meter: meter(13) });
    const state = heard(liveAt(withChannels([volts, loose])), 4);
    const { state: quiet } = walk(state, tick(6));
    expect(quiet.kind).toBe('live');
    expect(quiet.alarms).toMatchObject([{ code: 'meter-quiet', channel: 'line-volts' }]);
    expect(heard(quiet, 6.5, 'line-volts').alarms).toEqual([]);
  });

  test('only calls while another limited channel reads the same quantity', () => {
    const second2 = channel('line-volts', { meter: meter(13), quantity: 'primary-volts' });
    const both = withChannels([volts, second2], ['primary-volts', 'line-volts']);
    const one = heard(liveAt(both), 4, 'line-volts');
    expect(walk(one, tick(6)).state.kind).toBe('live');
    expect(walk(one, tick(6)).state.alarms).toMatchObject([{ code: 'meter-quiet', channel: 'primary-volts' }]);
    expect(walk(one, tick(9.5)).state.kind).toBe('tripped');
  });

  test('has three of its own intervals where that is longer', () => {
    const slow = channel('primary-volts', { meter: meter(11, { intervalMs: 3000 }) });
    const state = liveAt(withChannels([slow]));
    expect(silenceLimitSeconds(state, slow)).toBe(9);
    expect(walk(state, tick(9)).state.kind).toBe('live');
    expect(walk(state, tick(9.001)).state.kind).toBe('tripped');
  });

  test('is quiet at once when its port is lost', () => {
    const { state } = walk(liveAt(withChannels([volts])), at(1500, { kind: 'meter-silent', meterId: 11 }));
    expect(state.kind).toBe('tripped');
  });

  test('is lost no more once it answers, on whichever channel it is clipped to', () => {
    const coil = channel('coil-volts', { meter: meter(11) });
    const setUp: SetUp = { ...withChannels([volts, coil], ['primary-volts', 'coil-volts']), oneMeter: true };
    const lost = walk(readyAt(setUp), at(0, { kind: 'meter-silent', meterId: 11 })).state;
    expect(lost.kind).toBe('isolated');
    const ask = at(second, { kind: 'ready-asked' });
    expect(walk(lost, ask).last.refusal?.code).toBe('not-ready');
    expect(walk(lost, seen(second, 'coil-volts', reading(0)), ask).state.kind).toBe('ready');
  });

  test('means nothing on a channel that is read once', () => {
    const hertz = channel('hertz', { kind: 'hertz', unit: 'Hz', cadence: 'once', meter: meter(14) });
    const state = heard(liveAt(withChannels([volts, hertz])), 4);
    expect(walk(state, tick(8)).state.alarms).toEqual([]);
  });

  test('answers on whichever channel it is clipped to, when one meter is moved', () => {
    const coil = channel('coil-volts', { meter: meter(11) });
    const setUp: SetUp = { ...withChannels([volts, coil], ['primary-volts', 'coil-volts']), oneMeter: true };
    const state = heard(liveAt(setUp), 4, 'coil-volts');
    expect(walk(state, tick(8)).state.kind).toBe('live');
    expect(walk(state, tick(9.001)).state.kind).toBe('tripped');
  });
});

describe('a typed channel', () => {
  const typed = channel('primary-volts', { meter: meter(11, { typed: true, intervalMs: 0, linkIsolated: 'none' }) });
  const state = liveAt(withChannels([typed]));

  test('counts as answering for ready', () => {
    expect(readyAt(withChannels([typed])).kind).toBe('ready');
    expect(walk(readyAt(withChannels([typed])), tick(60)).state.kind).toBe('ready');
  });

  test('is reminded at the interval, calls at twice, trips at four times', () => {
    const at19 = walk(state, tick(19.9));
    expect(at19.last.effects).toEqual([]);
    const at20 = walk(at19.state, tick(20));
    expect(at20.last.effects).toContainEqual({ kind: 'remind', channel: 'primary-volts', label: 'primary volts' });
    expect(walk(at20.state, tick(21)).last.effects).toEqual([]);
    const at40 = walk(at20.state, tick(40));
    expect(at40.state.alarms).toMatchObject([{ code: 'typed-late', channel: 'primary-volts' }]);
    expect(at40.state.kind).toBe('live');
    expect(walk(at40.state, tick(79.9)).state.kind).toBe('live');
    const at80 = walk(at40.state, tick(80)).state;
    expect(at80.kind === 'tripped' && at80.trip).toMatchObject({ code: 'silence', source: 'typed', limitSeconds: 80 });
  });

  test('starts over with every value', () => {
    const late = walk(state, tick(41)).state;
    const again = heard(late, 42);
    expect(again.alarms).toEqual([]);
    expect(walk(again, tick(61.9)).last.effects).toEqual([]);
    expect(walk(again, tick(62)).last.effects).toContainEqual({ kind: 'sound', sound: 'tick' });
  });
});

describe('the time of a run', () => {
  test('trips exactly when it is over', () => {
    const setUp = withChannels([channel('primary-volts', { meter: meter(11) })]);
    const limits = { ...setUp.proposed.limits, runSeconds: 60 };
    let state = liveAt({ ...setUp, proposed: { limits, ceilings: [] } });
    for (let seconds = 1; seconds < 60; seconds += 1) state = heard(state, seconds);
    expect(walk(state, tick(59.999)).state.kind).toBe('live');
    const { state: after } = walk(state, tick(60));
    expect(after.kind === 'tripped' && after.trip).toEqual({ code: 'run-time', limitSeconds: 60 });
  });
});

describe('the time of a run that is simulated', () => {
  test('is over so much sooner by the clock', () => {
    const setUp = { ...withChannels([channel('primary-volts', { meter: meter(11) })]), timeFactor: 10 };
    const limits = { ...setUp.proposed.limits, runSeconds: 60 };
    const state = liveAt({ ...setUp, proposed: { limits, ceilings: [] } });
    expect(walk(heard(state, 4), tick(5.999)).state.kind).toBe('live');
    expect(walk(heard(state, 4), tick(6)).state.kind).toBe('tripped');
  });
});

describe('a temperature', () => {
  const core = channel('core', { kind: 'temperature', unit: '°C', volts: 0, joinedToMains: false, meter: meter(15) });
  const setUp = withChannels([volts, core]);
  const limits: Limits = {
    ...setUp.proposed.limits,
    channels: [...setUp.proposed.limits.channels, { channel: 'core', ...none, max: 80, risePerMinute: 5 }],
  };
  const hot: SetUp = { ...setUp, proposed: { limits, ceilings: [] } };

  /** Reads a core that warms by so much a minute, twice a second, until it trips or the time is over. */
  function warmed(perMinute: number, seconds: number, from = 20, of = hot) {
    let state = arrange(liveAt(of));
    for (let t = 0.5; t <= seconds && state.kind === 'live'; t += 0.5) {
      const now = second + t * second;
      ({ state } = walk(
        state,
        seen(now, 'primary-volts', reading(230)),
        seen(now, 'core', reading(from + (perMinute * t) / 60, '°C', null)),
      ));
    }
    return state;
  }

  test('trips by its rate of rise, taken over a minute', () => {
    expect(warmed(4.9, 180).kind).toBe('live');
    const state = warmed(5.1, 180);
    expect(state.kind === 'tripped' && state.trip).toMatchObject({ code: 'rise', channel: 'core', limit: 5 });
  });

  test('rises by its own minutes where practised time is simulated', () => {
    // Sixty times faster: 290 and 310 K in a minute of the clock are 4.83 and 5.17 in one of its own.
    const faster = { ...hot, timeFactor: 60 };
    const unbounded = limits.channels.map((one) => ({ ...one, max: null }));
    const simulated = { ...faster, proposed: { limits: { ...limits, channels: unbounded }, ceilings: [] } };
    expect(warmed(290, 10, 20, simulated).kind).toBe('live');
    const state = warmed(310, 10, 20, simulated);
    expect(state.kind === 'tripped' && state.trip).toMatchObject({ code: 'rise', channel: 'core' });
    expect(state.kind === 'tripped' && state.trip.code === 'rise' && state.trip.perMinute).toBeCloseTo(310 / 60, 6);
  });

  test('keeps no longer a trail than the rate needs', () => {
    const state = warmed(2, 600);
    expect(state.watch.channels['core']?.trail.length).toBeLessThanOrEqual(15);
  });

  test('rates a typed one from one value to the next, however far apart', () => {
    const typed = { ...core, meter: meter(15, { typed: true, intervalMs: 0 }) };
    const state = arrange(liveAt({ ...hot, channels: [volts, typed] }));
    const rise = (to: number) =>
      walk(
        heard(heard(arrange(state, seen(2000, 'core', reading(20, '°C', null))), 4), 8),
        ...[12, 16, 20, 24, 28, 32, 36, 40, 44, 48, 52, 56, 60, 64].map((t) =>
          seen(second + t * second, 'primary-volts', reading(230)),
        ),
        seen(second + 65 * second, 'core', reading(to, '°C', null)),
      ).state.kind;
    expect([rise(25), rise(26)]).toEqual(['live', 'tripped']);
  });

  test('counts with its sign: cold is not hot', () => {
    const state = arrange(liveAt(hot), seen(2000, 'core', reading(-90, '°C', null)));
    expect(state.kind).toBe('live');
  });
});
