import { expect, test } from 'vitest';
import { guardAtFirst } from '../../../src-shared/interlock/state.ts';
import { happeningsOf, limitSpansOf } from '../../../src-shared/report/happenings.ts';
import { event, run } from './facts-fixture.ts';

const limits = (max: number) => ({
  channels: [{ channel: 'primary-volts', min: null, max, warn: null, risePerMinute: null }],
  runSeconds: null,
  silenceSeconds: 5,
  typedSeconds: 60,
});
const guard = (atMs: number, more: object) => event('guard', atMs, { ...guardAtFirst(0), ...more });
const power = { by: 'Rowan', onAtMs: 0, offAtMs: null };
const trip = {
  code: 'limit',
  channel: 'primary-volts',
  label: 'Primary volts',
  unit: 'V',
  bound: 'max',
  value: 141.2,
  limit: 132,
};

test('tells power, trip with its reason, notes and whatever else is in the record, in order', () => {
  const before = guard(-100, { kind: 'ready', limits: limits(132) });
  const events = [
    guard(0, { kind: 'live', power, limits: limits(132) }),
    guard(10, { kind: 'live', power, limits: limits(132) }),
    event('note', 2000, { text: 'lamp stays dim, a little hum from the left side' }),
    guard(3000, { kind: 'tripped', power, trip, limits: limits(132) }),
    guard(4000, { kind: 'proving', power, trip, limits: limits(132) }),
    event('meter-lost', 5000, { meterId: 4 }),
  ];
  expect(
    happeningsOf(run, events, { kept: [], points: [] }, before).map(({ atMs, kind, word, text }) => [
      atMs,
      kind,
      word,
      text,
    ]),
  ).toEqual([
    [0, 'power', 'Power on', 'Power was declared on by Rowan.'],
    [2000, 'note', 'lamp stays dim, a litt ...', 'lamp stays dim, a little hum from the left side'],
    [3000, 'trip', 'Trip', 'Primary volts reached 141 V, limit 132 V.'],
    [4000, 'power', 'Power off', 'Power was declared off by Rowan.'],
    [5000, 'point', 'Meter lost', 'Meter lost.'],
  ]);
});

test('a run that began with power on says nothing of it again', () => {
  const before = guard(-100, { kind: 'live', power });
  expect(happeningsOf(run, [guard(50, { kind: 'live', power })], { kept: [], points: [] }, before)).toEqual([]);
});

test('what cannot be read of a guard or a trip is passed over, never thrown on', () => {
  const odd = [event('guard', 0, 'nonsense'), guard(10, { kind: 'tripped', trip: { code: 'new-code' } })];
  expect(happeningsOf(run, odd, { kept: [], points: [] }, null).map(({ text }) => text)).toEqual([
    'A limit was crossed.',
  ]);
});

test('limits stand from when they were set until they were set anew', () => {
  const before = guard(-100, { limits: limits(132) });
  const spans = limitSpansOf(run, [guard(500, { limits: limits(132) }), guard(8000, { limits: limits(125) })], before);
  expect(spans.map(({ max, fromMs, toMs }) => [max, fromMs, toMs])).toEqual([
    [132, 0, 8000],
    [125, 8000, null],
  ]);
});
