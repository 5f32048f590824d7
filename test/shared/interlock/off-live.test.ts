import { describe, expect, test } from 'vitest';
import { acceptReading, coolingMayBegin } from '../../../src-shared/interlock/accept.ts';
import { channelKinds, type ChannelKind, type SetUp } from '../../../src-shared/interlock/bench.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import {
  amps,
  arrange,
  at,
  channel,
  indicator,
  isolatedAt,
  limits,
  liveAt,
  lowSetUp,
  mainsSetUp,
  meter,
  openedSession,
  prepared,
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

const word = (state: GuardState, kind: ChannelKind): string => {
  const acceptance = acceptReading(state, kind);
  if (!acceptance.accepted) return acceptance.refusal.code;
  return acceptance.marked ? 'marked' : 'taken';
};

describe('what is recorded in which state', () => {
  const energised = {
    unproved: 'power-not-declared',
    isolated: 'power-not-declared',
    ready: 'power-not-declared',
    live: 'taken',
    tripped: 'marked',
    proving: 'power-not-declared',
  };
  const dead = {
    unproved: 'not-proved-dead',
    isolated: 'taken',
    ready: 'taken',
    live: 'not-proved-dead',
    tripped: 'not-proved-dead',
    proving: 'not-proved-dead',
  };
  const cooling = Object.fromEntries(
    Object.entries(dead).map(([kind, answer]) => [kind, answer === 'taken' ? answer : 'plug-out-first']),
  );
  const always = Object.fromEntries(Object.keys(dead).map((kind) => [kind, 'taken']));
  const expected: Readonly<Record<ChannelKind, Readonly<Record<string, string>>>> = {
    'energised-volts': energised,
    'energised-amps': energised,
    watts: energised,
    resistance: dead,
    insulation: dead,
    'cooling-resistance': cooling,
    temperature: always,
    ambient: always,
    hertz: always,
    proof: always,
  };
  const states = [openedSession(), isolatedAt(), readyAt(), liveAt(), trippedAt(), provingAt()];

  test.each(channelKinds)('%s', (kind) => {
    expect(Object.fromEntries(states.map((state) => [state.kind, word(state, kind)]))).toEqual(expected[kind]);
  });

  test('an ohmmeter needs the whole proof: the plug alone, or a point of a series, does not do', () => {
    expect(word(isolatedAt(lowSetUp), 'resistance')).toBe('not-proved-dead');
    expect(word(provedAt(openedSession(), 0, indicator), 'resistance')).toBe('taken');
  });
});

describe('cooling after switch-off', () => {
  const off = provingAt();
  const plug = ticks(3 * second, ['pd-plug']);
  const fallen = seen(4 * second, 'primary-volts', reading(0.4));

  test('may begin when the plug is out and, after that, the voltmeter is seen below the threshold', () => {
    const state = arrange(off, ...plug);
    expect(coolingMayBegin(state)).toBe(false);
    const { state: ready } = walk(state, fallen);
    expect(ready.kind).toBe('proving');
    expect(coolingMayBegin(ready)).toBe(true);
    expect(word(ready, 'cooling-resistance')).toBe('taken');
    expect(word(ready, 'resistance')).toBe('not-proved-dead');
  });

  test('not when the voltmeter fell before the plug was out', () => {
    const { state } = walk(off, seen(2500, 'primary-volts', reading(0.4)), ...plug);
    expect(coolingMayBegin(state)).toBe(false);
  });

  test('not on a plug line from before the switch-off, however it came to stand', () => {
    const { state } = walk(off, ...plug, fallen);
    const mark = state.checks['pd-plug'];
    if (mark === undefined) throw new Error('The plug line should stand.');
    const old: GuardState = { ...state, checks: { ...state.checks, 'pd-plug': { ...mark, atMs: second } } };
    expect(coolingMayBegin(old)).toBe(false);
  });

  test('not on a voltmeter that is not on the fed circuit', () => {
    const setUp: SetUp = {
      ...mainsSetUp,
      channels: [channel('secondary-volts', { volts: 24, joinedToMains: false, meter: meter(11) }), amps()],
      proposed: { limits: { ...limits, channels: [] }, ceilings: [] },
    };
    const { state } = walk(provingAt(setUp), ...plug, seen(4 * second, 'secondary-volts', reading(0.1)));
    expect(coolingMayBegin(state)).toBe(false);
  });

  test('not on an unreadable line, nor beyond the range', () => {
    const state = arrange(off, ...plug);
    expect(coolingMayBegin(walk(state, seen(4 * second, 'primary-volts', { kind: 'unreadable' })).state)).toBe(false);
  });

  test('may begin after volts were seen on switching off, when both are done again', () => {
    const { state: alarmed } = walk(off, ...plug, seen(3500, 'primary-volts', reading(80)), fallen);
    expect(alarmed.kind).toBe('unproved');
    expect(coolingMayBegin(alarmed)).toBe(false);
    const { state } = walk(alarmed, ...ticks(5 * second, ['pd-plug']), seen(6 * second, 'primary-volts', reading(0.2)));
    expect(state.kind).toBe('unproved');
    expect(coolingMayBegin(state)).toBe(true);
  });

  test('ends as soon as volts are seen, or the bench is plugged in again', () => {
    const { state } = walk(off, ...plug, fallen);
    expect(coolingMayBegin(walk(state, seen(5 * second, 'primary-volts', reading(200))).state)).toBe(false);
    expect(coolingMayBegin(arrange(state, at(5 * second, { kind: 'changed', what: ['plug'] })))).toBe(false);
  });

  test('is never a way to hands on metal: the state stays proving until a whole proof', () => {
    const { state } = walk(off, ...plug, fallen);
    expect(reduce(state, at(5 * second, { kind: 'ready-asked' })).refusal?.code).toBe('not-in-this-state');
  });

  test('has its switch-off marked by the key itself', () => {
    const setUp: SetUp = { ...mainsSetUp, checklists: ['B', 'N', 'K'] };
    const state = provingAt(setUp);
    expect(state.checks['k-mark']).toMatchObject({ atMs: 2 * second, how: 'program' });
  });
});

describe('between the points of a series', () => {
  const next = (atMs: number, touchesMetal = false) => at(atMs, { kind: 'next-point-proved', touchesMetal });
  /** Off after a point in which the clipped meter read 230 V, plug and capacitor lines confirmed. */
  const afterPoint = (): GuardState =>
    arrange(
      liveAt(),
      seen(1500, 'primary-volts', reading(230)),
      at(2 * second, { kind: 'power-off' }),
      ...ticks(3 * second, ['pd-plug', 'pd-cap']),
    );
  const fallen = seen(4 * second, 'primary-volts', reading(0.3));

  test('the plug out and the clipped meter seen to fall lead to the next point', () => {
    const { state, last } = walk(afterPoint(), fallen, next(5 * second));
    expect(last.refusal).toBeNull();
    expect(state.kind).toBe('isolated');
    expect(state.lastProof).toMatchObject({ kind: 'between-points', circuitAtMs: 4 * second });
    expect(word(state, 'resistance')).toBe('not-proved-dead');
    const again = arrange(prepared(state, 5 * second), at(5 * second, { kind: 'ready-asked' }));
    expect(again.kind).toBe('ready');
  });

  test('hands on metal need the whole proof', () => {
    expect(walk(afterPoint(), fallen, next(5 * second, true)).last.refusal?.code).toBe('metal-needs-full-proof');
  });

  test.each<[string, (state: GuardState) => GuardState, string]>([
    ['the meter was not seen to fall', (state) => state, 'fall-not-seen'],
    [
      'a meter was changed',
      (state) => arrange(state, at(3 * second, { kind: 'changed', what: ['meter'] })),
      'no-series',
    ],
    [
      'the load was changed',
      (state) => arrange(state, at(3 * second, { kind: 'changed', what: ['load'] })),
      'no-series',
    ],
    [
      'the plug line is missing',
      (state) => arrange(state, at(3 * second, { kind: 'check-withdrawn', checkId: 'pd-plug' })),
      'checks-first',
    ],
  ])('refused when %s', (_what, change, code) => {
    const { refusal, state } = reduce(change(afterPoint()), next(5 * second));
    expect(refusal?.code).toBe(code);
    expect(state.kind).toBe('proving');
  });

  test('refused when the meter fell before the plug came out: the switch alone is off', () => {
    const off = arrange(liveAt(), seen(1500, 'primary-volts', reading(230)), at(2 * second, { kind: 'power-off' }));
    const plugged = arrange(
      walk(off, seen(2500, 'primary-volts', reading(0.3))).state,
      ...ticks(3 * second, ['pd-plug', 'pd-cap']),
    );
    expect(reduce(plugged, next(5 * second)).refusal?.code).toBe('fall-not-seen');
  });

  test('refused when the meter never stood well above the threshold with power on: it may be dead itself', () => {
    const low = arrange(
      liveAt(),
      seen(1500, 'primary-volts', reading(14.9)),
      at(2 * second, { kind: 'power-off' }),
      ...ticks(3 * second, ['pd-plug', 'pd-cap']),
    );
    expect(walk(low, fallen, next(5 * second)).last.refusal?.code).toBe('fall-not-seen');
  });

  test('refused when the meter stood well above the threshold at an earlier point only', () => {
    const first = walk(afterPoint(), fallen, next(5 * second)).state;
    const again = arrange(
      arrange(prepared(first, 5 * second), at(5 * second, { kind: 'ready-asked' })),
      at(5 * second, { kind: 'power-on-begun' }),
      at(6 * second, { kind: 'power-on-confirmed' }),
      seen(7 * second, 'primary-volts', reading(0.1)),
      at(8 * second, { kind: 'power-off' }),
      ...ticks(9 * second, ['pd-plug', 'pd-cap']),
    );
    const { last } = walk(again, seen(10 * second, 'primary-volts', reading(0.1)), next(11 * second));
    expect(last.refusal?.code).toBe('fall-not-seen');
  });

  test('refused for a meter other than the one that was proved on the known source', () => {
    const setUp: SetUp = { ...mainsSetUp, channels: [channel('primary-volts', { meter: meter(13) }), amps()] };
    const state = arrange(
      liveAt(setUp),
      seen(1500, 'primary-volts', reading(230)),
      at(2 * second, { kind: 'power-off' }),
      ...ticks(3 * second, ['pd-plug', 'pd-cap']),
    );
    expect(walk(state, fallen, next(5 * second)).last.refusal?.code).toBe('fall-not-seen');
  });

  test('refused after volts were seen: the series is over', () => {
    const { state } = walk(afterPoint(), seen(3500, 'primary-volts', reading(60)));
    expect(reduce(state, next(5 * second)).refusal?.code).toBe('not-in-this-state');
    expect(state.series).toBeNull();
  });

  test('refused after an indicator’s proof: no meter was proved', () => {
    const begun = provedAt(openedSession(), 0, indicator);
    const live = arrange(
      arrange(prepared(begun, 0), at(0, { kind: 'ready-asked' })),
      at(0, { kind: 'power-on-begun' }),
      at(second, { kind: 'power-on-confirmed' }),
      seen(1500, 'primary-volts', reading(230)),
      at(2 * second, { kind: 'power-off' }),
      ...ticks(3 * second, ['pd-plug', 'pd-cap']),
    );
    expect(walk(live, fallen, next(5 * second)).last.refusal?.code).toBe('no-series');
  });
});
