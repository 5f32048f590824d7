import { describe, expect, test } from 'vitest';
import { limitWords, meterWords } from '../../src-renderer/frame/strip-view.ts';
import { diameterOfGauge } from '../../src-renderer/page/core/winding-form.svelte.ts';
import { isFound } from '../../src-renderer/page/shelf/find.ts';
import { clockLength, duration } from '../../src-renderer/part/time-words.ts';
import { writtenParts } from '../../src-shared/quantity/written-parts.ts';
import { addressOf, placeOf, type Place } from '../../src-renderer/state/route.svelte.ts';
import type { MeterState } from '../../src-shared/contract/meter-view.ts';
import { dimmerCore } from './shelf-fixture.ts';

const meter = (meterId: number, status: MeterState['status']) => ({
  meterId,
  state: { meterId, status, why: null, sentence: '', sinceMs: 0, last: null, channel: null, settling: null },
});

test.each([
  { kind: 'shelf' },
  { kind: 'new-core' },
  { kind: 'core', coreId: 3, buildId: null },
  { kind: 'core', coreId: 3, buildId: 12 },
  { kind: 'tally', planId: 3, output: null },
  { kind: 'tally', planId: 3, output: 'a/b%' },
  { kind: 'edit-core', coreId: 3 },
  { kind: 'bench', part: null },
  { kind: 'bench', part: 'prove' },
  { kind: 'plan', buildId: null },
  { kind: 'plan', buildId: 7 },
  { kind: 'wound', coreId: 3, planRevisionId: null },
  { kind: 'wound', coreId: 3, planRevisionId: 8 },
  { kind: 'meters' },
  { kind: 'new-meter' },
  { kind: 'meter', meterId: 8 },
] as const satisfies readonly Place[])('the address of $kind leads back to it', (place) => {
  expect(placeOf(addressOf(place))).toEqual(place);
});

test.each(['', '#', '#/nowhere', '#/core/zero', '#/core/-1', '#/core/1e3'])('%s leads to the shelf', (hash) => {
  expect(placeOf(hash)).toEqual({ kind: 'shelf' });
});

describe('the strip', () => {
  test('counts the meters of the set-up, or all of them without one', () => {
    const meters = [meter(1, 'answering'), meter(2, 'keyboard'), meter(3, 'silent')];
    expect(meterWords({ meters: [], setup: null })).toBe('none described');
    expect(meterWords({ meters, setup: null })).toBe('2 of 3 answering');
    expect(meterWords({ meters, setup: { channels: [{ meterId: 1 }, { meterId: 2 }] } })).toBe('both answering');
    expect(meterWords({ meters, setup: { channels: [{ meterId: 3 }] } })).toBe('0 of 1 answering');
  });

  test('says the highest limit of each unit, then the time', () => {
    const limit = (channel: string, max: number) => ({ channel, min: null, max, warn: null, risePerMinute: null });
    const limits = {
      channels: [limit('a', 3), limit('v', 15), limit('w', 50)],
      runSeconds: 300,
      silenceSeconds: 5,
      typedSeconds: 30,
    };
    expect(limitWords(limits, (channel) => (channel === 'a' ? 'A' : 'V'))).toBe('3 A · 50 V · 5:00');
  });
});

/** ASTM B258, nominal diameters of solid round wires: 17 AWG 0.0453 in, 4/0 0.4600 in, 30 AWG 0.0100 in (from memory). */
test.each([
  ['17 AWG', 0.0453],
  ['awg 30', 0.01],
  ['4/0 AWG', 0.46],
])('reads %s as a wire of %f in', (text, inches) => {
  expect((diameterOfGauge(text) ?? 0) / 25.4).toBeCloseTo(inches, 4);
});

test('does not take a bare number, or a gauge that there is none of, for a gauge', () => {
  expect([diameterOfGauge('17'), diameterOfGauge('99 AWG'), diameterOfGauge('1.25 mm')]).toEqual([null, null, null]);
});

test('writes lengths of time as people say them', () => {
  expect([72_000, 3_730_000, -5].map(clockLength)).toEqual(['1:12', '1:02:10', '0:00']);
  expect([4000, 185_000, 7_800_000, 7_200_000].map(duration)).toEqual(['4 s', '3 min', '2 h 10 min', '2 h']);
});

test('rounds a value to its uncertainty and keeps the unit apart', () => {
  expect(writtenParts({ value: 120.198, u: 0.412, unit: 'turns' })).toEqual({
    value: '120.20',
    u: '0.41',
    unit: 'turns',
  });
  expect(writtenParts({ value: 40, u: null, unit: 'mm' })).toEqual({ value: '40', u: null, unit: 'mm' });
  expect(writtenParts({ value: 24, u: 0, unit: '1' })).toEqual({ value: '24', u: null, unit: '' });
});

test('finds a core by any words of its label, origin or note', () => {
  expect(isFound(dimmerCore, 'dimmer retired')).toBe(true);
  expect(isFound(dimmerCore, 'dimmer oven')).toBe(false);
  expect(isFound(dimmerCore, '  ')).toBe(true);
});
