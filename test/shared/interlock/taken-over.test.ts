import { describe, expect, test } from 'vitest';
import type { ChannelFacts, MeterFacts, SetUp } from '../../../src-shared/interlock/bench.ts';
import { refusalWords } from '../../../src-shared/interlock/words.ts';
import { amps, arrange, at, channel, limits, liveAt, mainsSetUp, meter, reading, second, seen, walk } from './scene.ts';

const core = (more: Partial<ChannelFacts> = {}): ChannelFacts =>
  channel('core-temperature', {
    kind: 'temperature',
    unit: '°C',
    volts: 0,
    joinedToMains: false,
    onFed: false,
    meter: meter(21),
    ...more,
  });
const withBound = (max: number) => ({
  ...limits,
  channels: [...limits.channels, { channel: 'core-temperature', min: null, max, warn: null, risePerMinute: 5 }],
});
/** Volts, amps and the core's temperature, all limited. */
const warming: SetUp = {
  ...mainsSetUp,
  channels: [channel('primary-volts', { meter: meter(11) }), amps(), core()],
  proposed: { limits: withBound(90), ceilings: [] },
};
const readBy = (setUp: SetUp, id: string, filler: MeterFacts): SetUp => ({
  ...setUp,
  channels: setUp.channels.map((one) => (one.id === id ? { ...one, meter: filler } : one)),
});
const byEye = (meterId: number) => meter(meterId, { typed: true, intervalMs: 0 });
const takeOver = (setUp: SetUp, atMs = 3 * second) => at(atMs, { kind: 'taken-over', setUp });

describe('with power on', () => {
  test('the same meter is read by eye: power stays on, limits go on watching what is typed, no line is asked again', () => {
    const before = liveAt(warming);
    const { state, last } = walk(before, takeOver(readBy(warming, 'primary-volts', byEye(11))));
    expect(last.refusal).toBeNull();
    expect([state.kind, state.limits, state.checks, state.lastProof]).toEqual([
      'live',
      before.limits,
      before.checks,
      before.lastProof,
    ]);
    expect(walk(state, seen(4 * second, 'primary-volts', reading(260))).state.kind).toBe('tripped');
  });

  test('its silence counts from then on, by the rule of typed values', () => {
    const live = arrange(
      liveAt(warming),
      seen(3 * second, 'primary-volts', reading(230)),
      seen(3 * second, 'line-amps', reading(0.5, 'A')),
      takeOver(readBy(warming, 'core-temperature', byEye(21))),
    );
    // The others go on streaming; the core is typed every 20 s, alarm at 40 s, trip at 80 s.
    const until = (seconds: number) => {
      let state = live;
      for (let s = 4; s <= seconds; s += 1) {
        ({ state } = walk(
          state,
          seen(s * second, 'primary-volts', reading(230)),
          seen(s * second, 'line-amps', reading(0.5, 'A')),
        ));
      }
      return state;
    };
    expect(until(22).alarms).toEqual([]);
    expect(until(44).alarms.map(({ code }) => code)).toEqual(['typed-late']);
    expect(until(84)).toMatchObject({ kind: 'tripped', trip: { code: 'silence', source: 'typed' } });
  });

  test('nobody brings another meter to the circuit, and nothing changes', () => {
    const before = liveAt(warming);
    for (const id of ['primary-volts', 'line-amps']) {
      const { state, last } = walk(before, takeOver(readBy(warming, id, meter(31))));
      expect(last.refusal).toEqual({ code: 'leads-on-circuit', channel: id.replace('-', ' ') });
      expect([state.setUp, state.checks]).toEqual([before.setUp, before.checks]);
      expect(refusalWords(last.refusal ?? { code: 'no-session' })).toMatch(/nobody changes leads now.*F8/);
    }
    // A bead on a mains winding is on the circuit as well, and so is another range of the clipped meter.
    const onWinding: SetUp = { ...warming, channels: [...warming.channels.slice(0, 2), core({ joinedToMains: true })] };
    expect(walk(liveAt(onWinding), takeOver(readBy(onWinding, 'core-temperature', meter(31)))).last.refusal?.code).toBe(
      'leads-on-circuit',
    );
    expect(
      walk(before, takeOver(readBy(warming, 'primary-volts', meter(11, { lockedRange: 1 })))).last.refusal?.code,
    ).toBe('leads-on-circuit');
  });

  test('another thermometer takes over on the core: its limit stays, its rise begins anew, the lines of the meters are asked again', () => {
    const before = arrange(liveAt(warming), seen(3 * second, 'core-temperature', reading(40, '°C', null)));
    const { state, last } = walk(before, takeOver(readBy(warming, 'core-temperature', meter(31))));
    expect([last.refusal, state.kind, state.limits]).toEqual([null, 'live', before.limits]);
    expect(last.effects.flatMap((effect) => (effect.kind === 'notice' ? effect.lapses : [])).length).toBeGreaterThan(0);
    expect(state.checks['b-jack']).toBeUndefined();
    // Two thermometers differ by more than a core warms in a minute: no rise is made of that.
    expect(walk(state, seen(4 * second, 'core-temperature', reading(46, '°C', null))).state.kind).toBe('live');
    expect(walk(state, seen(4 * second, 'core-temperature', reading(91, '°C', null))).state.kind).toBe('tripped');
  });

  test('a thermometer that is added brings its proposed limit, and loosens none', () => {
    const bare: SetUp = { ...mainsSetUp };
    const before = liveAt(bare);
    const more: SetUp = { ...warming, channels: [...bare.channels, core({ required: false })] };
    const { state, last } = walk(before, takeOver(more));
    expect(last.refusal).toBeNull();
    expect(state.limits?.channels.slice(0, 2)).toEqual(before.limits?.channels);
    expect(state.limits?.channels[2]).toMatchObject({ channel: 'core-temperature', max: 90 });
  });

  test('no channel is dropped, no practice meter comes to a real bench, and what is quiet is quiet no more', () => {
    const dropped: SetUp = { ...warming, channels: warming.channels.slice(0, 2) };
    expect(walk(liveAt(warming), takeOver(dropped)).last.refusal?.code).toBe('power-is-on');
    const practised = readBy(warming, 'core-temperature', meter(31, { practice: true }));
    expect(walk(liveAt(warming), takeOver(practised)).last.refusal?.code).toBe('practice-meter');
    const pulled = arrange(liveAt(warming), at(3 * second, { kind: 'meter-silent', meterId: 21 }));
    expect(pulled).toMatchObject({ kind: 'tripped', trip: { code: 'silence' } });
    const { state } = walk(pulled, takeOver(readBy(warming, 'core-temperature', byEye(21))));
    expect(state.kind).toBe('tripped');
    expect(state.alarms.map(({ code }) => code)).toEqual(['tripped']);
  });
});

test('with power off it is a set-up like any other', () => {
  const off = arrange(liveAt(warming), at(3 * second, { kind: 'power-off' }));
  const next = readBy(warming, 'primary-volts', meter(31));
  const { state, last } = walk(off, takeOver(next));
  expect([last.refusal, state.kind, state.limits]).toEqual([null, 'proving', null]);
  expect(walk(off, at(3 * second, { kind: 'set-up', setUp: next })).state).toEqual(state);
  const unrated = readBy(warming, 'primary-volts', meter(31, { maxVolts: 100 }));
  expect(walk(off, takeOver(unrated)).last.refusal?.code).toBe('meter-unrated');
});
