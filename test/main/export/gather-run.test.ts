import { describe, expect, test } from 'vitest';
import { gatherRun, readingsAt } from '../../../src-main/export/gather-run.ts';
import { openReader } from '../../../src-main/store/read-record.ts';
import {
  code,
  dimmerCore,
  fullSession,
  furnished,
  keptValue,
  reading,
  started,
  value,
  write,
} from '../store/furnish.ts';
import { opened, temporaryFolder } from '../store/open-for-test.ts';

describe('what is gathered of a run', () => {
  test('is the same from the store and from a connection of its own', () => {
    const store = opened(temporaryFolder());
    const { run, meter, kept, result } = fullSession(store);
    const facts = gatherRun(store, run.runId);
    expect(facts).toMatchObject({
      run: { runId: run.runId, ending: 'ended' },
      meters: [meter.description, meter.description],
      kept: [{ eventId: kept.eventId, withdrawn: null }, { withdrawn: 'lead slipped' }],
      results: [{ resultId: result.resultId }],
      checks: [{ checkId: 'pd-plug', mark: 'confirmed' }],
      signOff: null,
    });
    expect(facts?.happenings.map(({ word }) => word)).toEqual(['lamp dim', 'Kept', 'Kept', 'Taken back', 'Kept']);
    const reader = openReader(store.file);
    expect(reader.together((parts) => gatherRun(parts, run.runId))).toEqual(facts);
    expect(reader.together((parts) => code(parts.cores.add(dimmerCore)))).toBe('store-unwritable');
    reader.close();
    expect(gatherRun(store, 999)).toBeNull();
  });

  test('has the kept points with their withdrawals, and what was answered at set-up, told once', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    const only = reading(store, run, 100, 12);
    write(store, [only]);
    const values = [keptValue('primary-volts', setting.meter.meterId, [only.readingId], 12)];
    const point = value(store.keptPoints.keep(run.runId, 6000, { atMs: 1000, values, fields: { turns: 12 } }));
    value(store.keptPoints.withdraw(run.runId, point.eventId, 6100, 'lead slipped'));
    const { sessionId, runId } = run;
    const body = { answers: { state: 'cold' }, poweredAtMs: null };
    value(store.events.add({ sessionId, runId, monoMs: 5000, kind: 'run-set-up', body }));
    const facts = gatherRun(store, runId);
    expect(facts?.points).toEqual([{ ...point, withdrawn: 'lead slipped' }]);
    expect(facts?.answers).toEqual({ state: 'cold' });
    expect(facts?.happenings.map(({ text }) => text)).toEqual(['12 V.', 'Taken back: lead slipped']);
  });

  test('counts every reading of a channel, whatever its buckets', () => {
    for (const count of [0, 1, 15, 16, 17, 300, 5000]) {
      const store = opened(temporaryFolder());
      const run = started(store, furnished(store));
      const all = Array.from({ length: count }, (_, index) =>
        index % 10 === 3
          ? reading(store, run, index * 10, 0, { kind: 'overload', value: null, text: 'OL' })
          : reading(store, run, index * 10, index),
      );
      write(store, all);
      const numbers = all.flatMap(({ value }) => value ?? []);
      const [first, second] = gatherRun(store, run.runId)?.counts ?? [];
      expect(first).toEqual({
        readings: count,
        overloads: count - numbers.length,
        unreadables: 0,
        lowest: numbers.length === 0 ? null : Math.min(...numbers),
        highest: numbers.length === 0 ? null : Math.max(...numbers),
        mean: numbers.length === 0 ? null : numbers.reduce((sum, each) => sum + each, 0) / numbers.length,
      });
      expect(second?.readings).toBe(0);
      store.close();
    }
  });

  test('finds the nearest reading of each channel, with the text as it was sent', () => {
    const store = opened(temporaryFolder());
    const run = started(store, furnished(store));
    write(store, [
      reading(store, run, 100, 12, { text: '12 V' }),
      reading(store, run, 200, 0, { kind: 'overload', value: null, text: 'OL' }),
      reading(store, run, 150, 1.5, { channel: 1 }),
    ]);
    const at = (atMs: number) => readingsAt(store, run.runId, atMs)?.map(({ text }) => text);
    expect(at(0)).toEqual(['12 V', '1.5 V AC']);
    expect(at(149)).toEqual(['12 V', '1.5 V AC']);
    expect(at(151)).toEqual(['OL', '1.5 V AC']);
    expect(at(1e9)).toEqual(['OL', '1.5 V AC']);
    expect(readingsAt(store, 999, 0)).toBeNull();
  });
});
