import { describe, expect, it } from 'vitest';
import { predictCrossing, type Warming } from '../../../src-shared/procedure/predict.ts';

const minute = 60_000;
const every = (stepMs: number, untilMs: number, celsius: (minutes: number) => number): readonly Warming[] =>
  Array.from({ length: Math.floor(untilMs / stepMs) + 1 }, (_, step) => ({
    atMs: step * stepMs,
    value: celsius((step * stepMs) / minute),
  }));

describe('when a limit will be reached', () => {
  it('is told from the straight line of the last minutes', () => {
    // 60 °C after five minutes, 10 K a minute: 120 °C in 6 min.
    const found = predictCrossing(
      every(5000, 5 * minute, (minutes) => 10 + 10 * minutes),
      120,
      5 * minute,
    );
    expect(found).toMatchObject({ limit: 120 });
    expect((found?.inMs ?? 0) / minute).toBeCloseTo(6, 9);
  });

  it('comes early rather than late for what slows down as it warms', () => {
    // Towards 140 °C with 30 min: 90 °C is passed 20.4 min after the start.
    const curve = (minutes: number) => 20 + 120 * (1 - Math.exp(-minutes / 30));
    const crossing = -30 * Math.log(1 - 70 / 120);
    for (const atMinutes of [6, 10, 15]) {
      const found = predictCrossing(every(2000, atMinutes * minute, curve), 90, atMinutes * minute);
      const told = atMinutes + (found?.inMs ?? Infinity) / minute;
      expect(told).toBeLessThan(crossing);
      expect(told).toBeGreaterThan(atMinutes);
    }
  });

  it.each([
    ['it is cooling', every(5000, 5 * minute, (minutes) => 80 - minutes)],
    ['it stands still', every(5000, 5 * minute, () => 80)],
    ['it only flickers', every(5000, 5 * minute, (minutes) => 80 + (Math.round(minutes * 12) % 2))],
    ['it is there already', every(5000, 5 * minute, (minutes) => 120 + minutes)],
    ['half a minute is no trend', every(5000, minute / 2, (minutes) => 20 + 10 * minutes)],
    ['three readings are no trend', every(minute, 2 * minute, (minutes) => 20 + 10 * minutes)],
    ['it is hours away', every(5000, 5 * minute, (minutes) => 20 + 0.1 * minutes)],
    ['nothing was read', []],
  ])('is not told when %s', (_why, readings) => {
    expect(predictCrossing(readings, 120, 5 * minute)).toBeNull();
  });

  it('forgets what is older than five minutes', () => {
    const readings = [
      ...every(5000, 5 * minute, () => 20),
      ...every(5000, 5 * minute, (minutes) => 20 + 4 * minutes).map(({ atMs, value }) => ({
        atMs: atMs + 6 * minute,
        value,
      })),
    ];
    expect((predictCrossing(readings, 60, 11 * minute)?.inMs ?? 0) / minute).toBeCloseTo(5, 1);
  });
});
