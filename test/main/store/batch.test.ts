import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { couplings, readingKinds, readingOrigins, type Reading } from '../../../src-shared/record/reading.ts';
import { code, furnished, reading, sitting, started, value, write } from './furnish.ts';
import { opened, openedWithConnection, temporaryFolder } from './open-for-test.ts';

fc.configureGlobal({ seed: 20_310_314 });

describe('a batch', () => {
  test('gives every reading back as it was, to the microsecond and millisecond', () => {
    const store = opened(temporaryFolder());
    const { build, meter, session } = furnished(store);
    value(store.sessions.end(session.sessionId));
    const practice = value(store.sessions.open(sitting(build.buildId), true));
    const run = started(store, { session: practice, meter });
    let atMs = 0;
    const anyReading = fc
      .record({
        stepUs: fc.nat(3_000_000),
        offsetMs: fc.integer({ min: -5000, max: 4_000_000 }),
        kind: fc.constantFrom(...readingKinds),
        value: fc.double({ noNaN: true, noDefaultInfinity: true }),
        coupling: fc.option(fc.constantFrom(...couplings)),
        resolution: fc.option(fc.constantFrom(0.001, 0.01, 1, 10)),
        text: fc.string({ maxLength: 30 }),
        origin: fc.constantFrom(...readingOrigins),
        rangeIndex: fc.option(fc.nat(59)),
        rangeLocked: fc.boolean(),
        tripped: fc.boolean(),
        bottomOfRange: fc.boolean(),
      })
      .map(({ stepUs, offsetMs, ...rest }): Reading => {
        atMs = Math.round(atMs * 1000 + stepUs) / 1000;
        const wallMs = Math.round(run.startedWallMs + atMs + offsetMs);
        return reading(store, run, atMs, 0, { ...rest, wallMs, value: rest.kind === 'number' ? rest.value + 0 : null });
      });
    fc.assert(
      fc.property(anyReading, (given) => {
        write(store, [given]);
        expect(store.readings.get(given.readingId)).toEqual(given);
      }),
      { numRuns: 300, endOnFailure: true },
    );
  });

  test('is read back by run in the order of acceptance, past a page, and by the last of a channel', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const readings = Array.from({ length: 2500 }, (_, index) =>
      reading(store, run, index, index, { channel: index % 2 }),
    );
    expect(write(store, readings)).toEqual({ readings: 2500, events: 0 });
    value(store.runs.end(run.runId, 'ended'));
    const next = started(store, setting);
    write(store, [reading(store, next, 0, 7)]);
    expect([...store.readings.ofRun(run.runId)]).toEqual(readings);
    expect(store.readings.last(run.runId, 1, 2)).toEqual([readings[2497], readings[2499]]);
    expect([...store.readings.ofRun(99)]).toEqual([]);
    expect(store.readings.last(99, 0, 2)).toEqual([]);
    expect(store.readings.get(9999)).toBeNull();
  });

  test('counts on from the numbers that are in the record', () => {
    const folder = temporaryFolder();
    const first = opened(folder);
    const setting = furnished(first);
    const run = started(first, setting);
    const ids = [first.readings.nextId(), first.readings.nextId(), first.readings.nextId()];
    expect(ids).toEqual([1, 2, 3]);
    write(first, [reading(first, run, 0, 1)]);
    first.close();
    expect(opened(folder).readings.nextId()).toBe(5);
  });

  test.each<[string, string, (good: Reading) => Partial<Reading>]>([
    ['a run that is not there', 'no-run', () => ({ runId: 99 })],
    ['a channel that the run has not', 'bad-input', () => ({ channel: 2 })],
    ['no number where there is none', 'bad-input', () => ({ value: NaN })],
    ['an endless number', 'bad-input', () => ({ value: -Infinity })],
    ['an endless time', 'bad-input', () => ({ atMs: Infinity })],
    ['no wall time', 'bad-input', () => ({ wallMs: NaN })],
    ['an endless resolution', 'bad-input', () => ({ resolution: Infinity })],
    ['a number without a value', 'bad-input', () => ({ value: null })],
    ['an overload with a value', 'bad-input', () => ({ kind: 'overload' })],
    ['a time before the last of its channel', 'bad-input', () => ({ atMs: 4 })],
    ['a time before the run', 'bad-input', () => ({ atMs: -1, channel: 1 })],
    ['a number that was used', 'bad-input', () => ({ readingId: 1 })],
    ['a broken number', 'bad-input', ({ readingId }) => ({ readingId: readingId + 0.5 })],
    ['practice in a run that is none', 'bad-input', () => ({ origin: 'practice' })],
  ])('with %s is refused whole, and the next is taken', (_, expected, spoil) => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const first = reading(store, run, 5, 230);
    write(store, [first]);
    const good = reading(store, run, 6, 231);
    const event = {
      sessionId: null,
      runId: run.runId,
      monoMs: 1,
      kind: 'mark',
      body: null,
      eventId: store.events.nextId(),
      wallMs: 1,
    };
    const next = reading(store, run, 7, 232);
    const bad = { ...next, ...spoil(next) };
    expect(code(store.readings.writeBatch({ readings: [good, bad], events: [event] }))).toBe(expected);
    expect([...store.readings.ofRun(run.runId)]).toEqual([first]);
    expect(store.events.ofRun(run.runId)).toEqual([]);
    value(store.readings.writeBatch({ readings: [good, next], events: [event] }));
    expect([...store.readings.ofRun(run.runId)]).toEqual([first, good, next]);
  });

  test('with an event that is refused leaves no reading', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    const readings = [reading(store, run, 1, 2)];
    const event = { sessionId: 99, runId: null, monoMs: 1, kind: 'mark', body: null, eventId: 1, wallMs: 1 };
    expect(code(store.readings.writeBatch({ readings, events: [event] }))).toBe('not-found');
    expect([...store.readings.ofRun(run.runId)]).toEqual([]);
    write(store, readings);
  });

  test('of an ended run is refused', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    value(store.runs.end(run.runId, 'ended'));
    expect(code(store.readings.writeBatch({ readings: [reading(store, run, 1, 2)], events: [] }))).toBe('no-run');
  });

  test('that finds a number used by other means throws and leaves nothing half-written', () => {
    const { store, connection } = openedWithConnection();
    const run = started(store, furnished(store));
    const [first, second] = [reading(store, run, 1, 2), reading(store, run, 2, 3)];
    connection
      .prepare(
        `INSERT INTO reading (reading_id, run_id, channel, place, at_us, wall_offset_ms, text, form)
        VALUES (?, ?, 0, 0, 0, 0, 'other', 1)`,
      )
      .run(second.readingId, run.runId);
    expect(() => store.readings.writeBatch({ readings: [first, second], events: [] })).toThrow(/never replaced/);
    expect(store.readings.get(first.readingId)).toBeNull();
  });
});

test('a person reads the readings in plain words', () => {
  const { store, connection } = openedWithConnection();
  const run = started(store, furnished(store));
  write(store, [
    reading(store, run, 1500, 230.1, { tripped: true }),
    reading(store, run, 2000, 0, { kind: 'overload', value: null, origin: 'keyboard', coupling: null, channel: 1 }),
  ]);
  expect(connection.prepare('SELECT * FROM reading_plain').all()).toEqual([
    {
      reading_id: 1,
      run_id: run.runId,
      channel: 'primary-volts',
      at_seconds: 1.5,
      wall_ms: run.startedWallMs + 1500,
      kind: 'number',
      value: 230.1,
      unit: 'V',
      coupling: 'ac',
      resolution: 0.01,
      text: '230.1 V AC',
      origin: 'meter',
      range_index: 1,
      range_locked: 1,
      tripped: 1,
      bottom_of_range: 0,
    },
    expect.objectContaining({
      channel: 'coil-volts',
      kind: 'overload',
      value: null,
      origin: 'keyboard',
      coupling: null,
    }),
  ]);
});
