import { describe, expect, test } from 'vitest';
import { presetThresholds } from '../../../src-shared/interlock/bounds.ts';
import { command, reduce } from '../../../src-shared/interlock/reduce.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import {
  arrange,
  at,
  isolatedAt,
  limits,
  liveAt,
  lowSetUp,
  minute,
  provingAt,
  readyAt,
  reading,
  second,
  seen,
  ticks,
  trippedAt,
  walk,
} from './scene.ts';

const pressed = (): GuardState => arrange(readyAt(), at(0, { kind: 'power-on-begun' }));
const confirm = (state: GuardState, atMs: number) => reduce(state, at(atMs, { kind: 'power-on-confirmed' }));

describe('holding the bar', () => {
  test.each([
    [999, 'hold-too-short'],
    [1000, undefined],
    [5000, undefined],
    [5001, 'hold-too-long'],
  ])('confirmed after %i ms: %s', (atMs, code) => {
    // The meters go on answering meanwhile.
    const heard = arrange(pressed(), seen(900, 'primary-volts', reading(0)), seen(900, 'line-amps', reading(0, 'A')));
    const { state, refusal } = confirm(heard, atMs);
    expect(refusal?.code).toBe(code);
    expect(state.kind).toBe(code === undefined ? 'live' : 'ready');
  });

  test('too short a hold is forgotten: the next confirmation needs a new one', () => {
    const { state } = confirm(pressed(), 500);
    expect(confirm(state, 1500).refusal?.code).toBe('hold-not-begun');
  });

  test('let go is forgotten', () => {
    const state = arrange(pressed(), at(300, { kind: 'power-on-let-go' }));
    expect(confirm(state, 1200).refusal?.code).toBe('hold-not-begun');
  });

  test('anything that ends ready ends the hold', () => {
    const changed = arrange(pressed(), at(200, { kind: 'changed', what: ['load'] }));
    expect(changed.kind).toBe('isolated');
    expect(changed.hold).toBeNull();
    expect(confirm(changed, 1200).refusal?.code).toBe('not-in-this-state');
  });

  test('volts seen during the hold win', () => {
    const { state } = walk(pressed(), seen(800, 'primary-volts', reading(12)));
    expect(state.kind).toBe('unproved');
    expect(state.hold).toBeNull();
    expect(confirm(state, 1200).state.kind).toBe('unproved');
  });
});

describe('power declared on', () => {
  test('uses the proof up: nothing of it stands for the next time', () => {
    const live = liveAt();
    expect(live.lastProof?.endedAtMs).toBe(second);
    for (const id of ['pd-plug', 'pd-cap', 'pd-ln', 'pd-lc', 'pd-sec'] as const)
      expect(live.checks[id]).toBeUndefined();
    expect(live.checks['b-place']).toBeDefined();
  });

  test('through mains counts as powered since the last change; at low voltage it does not', () => {
    expect(liveAt().builtOrMovedSincePower).toBe(false);
    expect(liveAt(lowSetUp).builtOrMovedSincePower).toBe(true);
  });

  test('asks for the lamp again after a winding was changed or the transformer moved', () => {
    const off = provingAt();
    expect(off.builtOrMovedSincePower).toBe(false);
    for (const what of ['winding', 'moved'] as const) {
      expect(arrange(off, at(3 * second, { kind: 'changed', what: [what] })).builtOrMovedSincePower).toBe(true);
    }
  });

  test('bench and people are asked again within the hour, with power on', () => {
    const { state, last } = walk(
      { ...liveAt(), limits: { ...limits, runSeconds: null, silenceSeconds: 120, channels: [] } },
      seen(60 * minute, 'primary-volts', reading(230)),
    );
    expect(state.kind).toBe('live');
    const notice = last.effects.find(({ kind }) => kind === 'notice');
    expect(notice).toMatchObject({
      lapses: [{ checkId: 'b-off' }, { checkId: 'b-place' }, { checkId: 'b-people' }],
    });
    const again = arrange(state, ...ticks(61 * minute, ['b-off', 'b-place', 'b-people']));
    expect(again.lapsed['b-place']).toBeUndefined();
  });

  test('a change that nobody makes with power on calls to switch off, and does not look like off', () => {
    const { state, last } = walk(liveAt(), at(2 * second, { kind: 'changed', what: ['wiring', 'load'] }));
    expect(state.kind).toBe('live');
    expect(state.alarms).toMatchObject([{ code: 'changed-while-live', what: ['wiring'] }]);
    expect(last.effects).toContainEqual({ kind: 'sound', sound: 'alarm' });
  });
});

describe('"power is off"', () => {
  test('from live and tripped: proving, with the instant of switching off', () => {
    for (const state of [liveAt(), trippedAt()]) {
      const off = arrange(state, at(3 * second, { kind: 'power-off' }));
      expect(off.kind).toBe('proving');
      expect(off.power).toEqual({ by: 'Ida', onAtMs: second, offAtMs: 3 * second });
      expect(off.liveMs).toBe(2 * second);
      expect(off.alarms).toEqual([]);
    }
  });

  test('when nothing was declared on it costs the proof and gains nothing', () => {
    for (const make of [() => isolatedAt(), () => readyAt()]) {
      const before = make();
      const off = arrange(before, at(second, { kind: 'power-off' }));
      expect(off.kind).toBe('proving');
      expect(off.why).toMatchObject({ code: 'off-without-on', was: before.kind });
      expect(off.checks['pd-plug']).toBeUndefined();
      expect(off.checks['pd-ln']).toBeUndefined();
    }
  });

  test('is never refused and never stale', () => {
    for (const make of [() => isolatedAt(), () => readyAt(), () => liveAt(), () => trippedAt(), () => provingAt()]) {
      const { refusal } = command(make(), -5, at(3 * second, { kind: 'power-off' }));
      expect(refusal).toBeNull();
    }
  });

  test('keeps a trip in mind until the next time', () => {
    const off = arrange(trippedAt(), at(3 * second, { kind: 'power-off' }));
    expect(off.trip).toMatchObject({ code: 'limit', channel: 'primary-volts' });
  });
});

describe('a command', () => {
  const press = at(0, { kind: 'power-on-begun' });

  test('from somebody who saw this revision is taken', () => {
    const state = readyAt();
    expect(command(state, state.revision, press).refusal).toBeNull();
  });

  test.each([-1, 1])('from somebody who saw another revision (%i) is stale', (off) => {
    const state = readyAt();
    const { refusal, state: after } = command(state, state.revision + off, press);
    expect(refusal).toEqual({ code: 'stale', sent: state.revision + off, current: state.revision });
    expect(after.hold).toBeNull();
  });

  test('a stale one still lets time pass', () => {
    const { state } = command(readyAt(), 0, at(31 * minute, { kind: 'power-on-begun' }));
    expect(state.kind).toBe('unproved');
  });

  test('readings do not make the person’s revision stale', () => {
    const live = liveAt();
    const { state } = walk(live, seen(1500, 'primary-volts', reading(229)), seen(2000, 'primary-volts', reading(231)));
    expect(state.revision).toBe(live.revision);
    expect(state.watch.channels['primary-volts']?.value).toBe(231);
  });
});

describe('ready', () => {
  test('is refused with everything that is missing', () => {
    const { refusal } = reduce(isolatedAt(), at(0, { kind: 'ready-asked' }));
    expect(refusal).toMatchObject({ code: 'not-ready' });
    const missing = refusal?.code === 'not-ready' ? refusal.missing : [];
    expect(missing).toContain('b-volts');
    expect(missing).toContain('b-lamp');
    expect(missing).toContain('limits');
    expect(missing).toContain('meter:primary-volts');
    expect(missing).not.toContain('b-help');
    expect(missing).not.toContain('pd-ln');
  });

  test.each([
    ['a must is taken back', at(0, { kind: 'check-withdrawn', checkId: 'b-cover' }), 'isolated'],
    ['its meter falls silent', at(6 * second, { kind: 'tick' }), 'isolated'],
    ['its meter is lost', at(0, { kind: 'meter-silent', meterId: 12 }), 'isolated'],
    ['the plug line is taken back', at(0, { kind: 'check-withdrawn', checkId: 'pd-plug' }), 'unproved'],
    ['somebody else takes over', at(0, { kind: 'changed', what: ['hand-over'] }), 'unproved'],
  ] as const)('ends when %s', (_what, event, kind) => {
    const { state, last } = walk(readyAt(), event);
    expect(state.kind).toBe(kind);
    expect(last.effects.some((effect) => effect.kind === 'record')).toBe(true);
  });

  test('ends when a must has stood its time, though the meters answer', () => {
    const thresholds = { ...presetThresholds, benchMinutes: 10 };
    const state = arrange(readyAt(), at(0, { kind: 'thresholds-set', thresholds, reason: null }));
    let heard = state;
    for (let t = 0; t < 10 * minute; t += 4 * second) {
      heard = arrange(heard, seen(t, 'primary-volts', reading(0)), seen(t, 'line-amps', reading(0, 'A')));
    }
    expect(heard.kind).toBe('ready');
    const { state: after, last } = walk(heard, at(10 * minute, { kind: 'tick' }));
    expect(after.kind).toBe('isolated');
    expect(after.why).toMatchObject({ code: 'lapsed', lapses: [{ checkId: 'b-off' }, {}, {}] });
    expect(last.effects).toContainEqual({ kind: 'sound', sound: 'tick' });
  });

  test('lets a should be passed over, but not once it has become a must', () => {
    const skip = at(3 * second, { kind: 'should-skipped', checkId: 'b-lamp', reason: 'same core, same windings' });
    const powered = arrange(provingAt(), at(3 * second, { kind: 'check-withdrawn', checkId: 'b-lamp' }));
    const passedOver = arrange(powered, skip);
    expect(passedOver.checks['b-lamp']).toMatchObject({ how: 'passed-over', reason: 'same core, same windings' });
    const moved = arrange(passedOver, at(3 * second, { kind: 'changed', what: ['moved'] }));
    expect(moved.checks['b-lamp']).toBeUndefined();
    expect(reduce(moved, skip).refusal?.code).toBe('must-not-skipped');
  });
});
