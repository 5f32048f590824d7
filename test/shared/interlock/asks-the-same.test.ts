import { describe, expect, test } from 'vitest';
import { asksTheSame } from '../../../src-shared/interlock/asks-the-same.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { arrange, at, isolatedAt, liveAt, minute, provingAt, reading, seen } from './scene.ts';

describe('a state of the guard asks the same of the person', () => {
  test('after what the program ticks by itself, and after a reading', () => {
    const before = isolatedAt();
    const ticked = arrange(before, at(0, { kind: 'auto-check', checkId: 'n-type', holds: true }));
    expect(ticked.revision).toBeGreaterThan(before.revision);
    expect(asksTheSame(before, ticked)).toBe(true);
    const live = liveAt();
    expect(asksTheSame(live, arrange(live, seen(1500, 'primary-volts', reading(229))))).toBe(true);
  });

  test('after an alarm that changes nothing else', () => {
    const live = liveAt();
    const alarms = [{ code: 'clock', atMs: 2000, heard: false }] as const;
    expect(asksTheSame(live, { ...live, revision: live.revision + 1, alarms })).toBe(true);
  });

  test('not after a check was confirmed, a limit was crossed, power went off, or a proof lapsed', () => {
    const before = isolatedAt();
    expect(asksTheSame(before, arrange(before, at(0, { kind: 'check-confirmed', checkId: 'b-help' })))).toBe(false);
    const live = liveAt();
    expect(asksTheSame(live, reduce(live, at(3000, { kind: 'power-off' })).state)).toBe(false);
    expect(asksTheSame(live, provingAt())).toBe(false);
    const late = reduce(before, at(31 * minute, { kind: 'tick' })).state;
    expect(late.kind).toBe('unproved');
    expect(asksTheSame(before, late)).toBe(false);
  });
});
