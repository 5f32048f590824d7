import { expect, it } from 'vitest';
import { code, fullSession, furnished, reading, started, value, write } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';

const withRecord = () => {
  const store = opened(temporaryFolder());
  return { store, ...fullSession(store) };
};

it('keeps a point as an event, in order, and a withdrawal beside it', () => {
  const { store, run, point, keptPoint } = withRecord();
  const another = value(store.keptPoints.keep(run.runId, 8000, { ...point, fields: { turns: 118, note: 'wrong' } }));
  expect(store.events.get(keptPoint.eventId)).toMatchObject({ kind: 'point-kept', runId: run.runId, body: point });
  expect(value(store.keptPoints.withdraw(run.runId, another.eventId, 8100, 'wrong count')).withdrawn).toBe(
    'wrong count',
  );
  expect(code(store.keptPoints.withdraw(run.runId, another.eventId, 8200, 'again'))).toBe('not-found');
  expect(code(store.keptPoints.withdraw(run.runId, 9999, 8200, 'none such'))).toBe('not-found');
  expect(store.keptPoints.ofRun(run.runId)).toEqual([keptPoint, { ...another, withdrawn: 'wrong count' }]);
  expect(store.keptPoints.ofRun(run.runId + 1)).toEqual([]);
});

it('refuses a point of readings that are not of its run, or of numbers that are none', () => {
  const { store, run, point } = withRecord();
  const [first] = point.values;
  if (first === undefined) throw new Error('The point has no value.');
  const foreign = { ...point, values: [{ ...first, readingIds: [999] }] };
  expect(code(store.keptPoints.keep(run.runId, 1, foreign))).toBe('not-found');
  expect(code(store.keptPoints.keep(run.runId + 5, 1, { ...point, values: [] }))).toBe('not-found');
  expect(code(store.keptPoints.keep(run.runId, 1, { ...point, atMs: NaN }))).toBe('bad-input');
});

it('gives every number of a short channel, and evenly spread ones of a long one, its ends among them', () => {
  const store = opened(temporaryFolder());
  const run = started(store, furnished(store));
  write(
    store,
    Array.from({ length: 1001 }, (_, step) =>
      reading(store, run, step * 1000, step, step % 10 === 9 ? { kind: 'overload', value: null } : {}),
    ),
  );
  expect(store.readings.spread(run.runId, 0, 1001)).toHaveLength(901);
  const spread = store.readings.spread(run.runId, 0, 11);
  expect(spread.map(({ atMs }) => atMs / 1000)).toEqual([0, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000]);
  expect(store.readings.spread(run.runId, 1, 11)).toEqual([]);
});

it('tells the stretches of power of a run from what the guard said in it', () => {
  const { store, run, session } = withRecord();
  const guard = (onAtMs: number | null, offAtMs: number | null) =>
    value(
      store.events.add({
        sessionId: session.sessionId,
        runId: run.runId,
        monoMs: 1,
        kind: 'guard',
        body: { power: onAtMs === null ? null : { by: 'x', onAtMs, offAtMs } },
      }),
    );
  guard(null, null);
  guard(100, null);
  guard(100, null);
  guard(100, 900);
  guard(1500, null);
  expect(store.events.powerOf(run.runId)).toEqual([
    { onAtMs: 100, offAtMs: 900 },
    { onAtMs: 1500, offAtMs: null },
  ]);
});
