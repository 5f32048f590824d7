import { describe, expect, it } from 'vitest';
import { watchStep, type WatchedReading, type WatchedStep } from '../../../src-shared/procedure/hands-free.ts';

const step = (more: Partial<WatchedStep> = {}): WatchedStep => ({
  isKnown: false,
  coupling: 'ac',
  knownVolts: 24,
  thresholdVolts: 3,
  comesFromKnown: false,
  announcedAtMs: 0,
  placeMs: 4000,
  ...more,
});
/** Readings twice a second from the announcement on. */
const readings = (...volts: readonly (number | null)[]): WatchedReading[] =>
  volts.map((one, index) => ({ atMs: index * 500, volts: one, coupling: 'ac' }));
const at = (given: readonly WatchedReading[], which: WatchedStep, nowMs = given.at(-1)?.atMs ?? 0) =>
  watchStep(which, given, nowMs);

describe('the known source', () => {
  const known = step({ isKnown: true });
  it('is taken once it stands steady near its volts', () => {
    expect(at(readings(0, 0, 24.1, 24.0), known)).toEqual({ kind: 'wait', why: 'unsteady' });
    expect(at(readings(0, 0, 24.1, 24.0, 24.1, 24.0), known)).toMatchObject({ kind: 'take', reading: { volts: 24 } });
  });
  it('is waited for while the probes are elsewhere, however long and steady that is', () => {
    expect(at(readings(0, 0, 0, 0, 0, 0, 0, 0), known)).toEqual({ kind: 'wait', why: 'not-there' });
    expect(at(readings(19, 19, 19, 19, 19, 19), known)).toEqual({ kind: 'wait', why: 'not-there' });
    expect(at(readings(null, null, null, null, null), known)).toEqual({ kind: 'wait', why: 'not-there' });
  });
  it('is waited for until the knob is on the kind that is asked', () => {
    expect(at(readings(24, 24, 24, 24, 24), step({ isKnown: true, coupling: 'dc' }))).toEqual({
      kind: 'wait',
      why: 'other-kind',
    });
  });
});

describe('a point of the circuit', () => {
  it('is not taken before the time to place the probes is over', () => {
    expect(at(readings(0, 0, 0, 0, 0), step())).toEqual({ kind: 'wait', why: 'placing', leftMs: 2000 });
    expect(at(readings(0, 0, 0, 0, 0, 0, 0, 0, 0), step())).toMatchObject({ kind: 'take', reading: { volts: 0 } });
  });
  it('waits for the probes to leave the known source, and counts from then', () => {
    const after = step({ comesFromKnown: true });
    expect(at(readings(24, 24, 24, 24, 24, 24, 24, 24, 24, 24), after)).toEqual({ kind: 'wait', why: 'leave-known' });
    const left = readings(24, 24, 24, 24, 0, 0, 0, 0, 0, 0, 0, 0);
    expect(at(left, after)).toEqual({ kind: 'wait', why: 'placing', leftMs: 500 });
    expect(at([...left, ...readings(0).map((one) => ({ ...one, atMs: 6000 }))], after)).toMatchObject({ kind: 'take' });
  });
  it('is taken with volts on it as it is without, so that the proof fails', () => {
    expect(at(readings(0, 0, 118, 118, 118, 118, 118, 118, 118), step())).toMatchObject({
      kind: 'take',
      reading: { volts: 118 },
    });
    expect(at(readings(0, 0, null, null, null, null, null, null, null), step())).toMatchObject({
      kind: 'take',
      reading: { volts: null },
    });
  });
  it('is not taken while the reading moves, nor from too few readings', () => {
    expect(at(readings(0, 0, 0, 0, 0, 0, 0, 6, 0), step())).toEqual({ kind: 'wait', why: 'unsteady' });
    const sparse = [0, 4500].map((atMs) => ({ atMs, volts: 0, coupling: 'ac' }) as const);
    expect(at(sparse, step(), 4500)).toEqual({ kind: 'wait', why: 'unsteady' });
  });
});
