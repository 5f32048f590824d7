import { describe, expect, test } from 'vitest';
import type { WindingFields } from '../../../src-shared/record/build.ts';
import { settingsAtFirst } from '../../../src-shared/record/settings.ts';
import { code, dimmerCore, furnished, handMeter, primary, reading, started, value, write } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';

describe('cores', () => {
  test('come with their build 1, as found', () => {
    const store = opened(temporaryFolder());
    const { core, build } = value(store.cores.add(dimmerCore, { shunts: 'in' }));
    expect(core).toMatchObject({ replaces: null, reason: null, fields: dimmerCore });
    expect(build).toEqual({
      buildId: build.buildId,
      coreId: core.coreId,
      number: 1,
      wallMs: build.wallMs,
      fields: { title: 'as found', joint: 'not-known', shunts: 'in' },
      windings: [],
      hasRuns: false,
    });
    expect(store.cores.get(core.coreId)).toEqual(core);
    expect(store.builds.get(build.buildId)).toEqual(build);
  });

  test('are corrected by a further row that names the one it replaces; the first stays', () => {
    const store = opened(temporaryFolder());
    const { core } = value(store.cores.add(dimmerCore));
    const heavier = { ...dimmerCore, mass: { value: 4.6, u: 0.01 } };
    const second = value(store.cores.correct(core.coreId, 'weighed without the bracket', heavier));
    const third = value(store.cores.correct(core.coreId, 'label', { ...heavier, label: 'Dimmer core 1' }));
    expect(second).toMatchObject({
      coreId: core.coreId,
      replaces: core.revisionId,
      reason: 'weighed without the bracket',
    });
    expect(third.replaces).toBe(second.revisionId);
    expect(store.cores.history(core.coreId)).toEqual([core, second, third]);
    expect(store.cores.get(core.coreId)).toEqual(third);
    value(store.cores.add({ label: 'Core B', shape: 'unknown' }));
    expect(store.cores.list().map(({ fields }) => fields.label)).toEqual(['Dimmer core 1', 'Core B']);
  });

  test('that are not there are null, empty and not found', () => {
    const { cores } = opened(temporaryFolder());
    expect(cores.get(7)).toBeNull();
    expect(cores.history(7)).toEqual([]);
    expect(code(cores.correct(7, 'why', dimmerCore))).toBe('not-found');
  });

  test('are refused with the place that does not fit, and nothing of them stays', () => {
    const { cores } = opened(temporaryFolder());
    expect(cores.add({ ...dimmerCore, mass: { value: Infinity, u: null } })).toMatchObject({
      ok: false,
      failure: { code: 'bad-input', path: 'mass.value' },
    });
    expect(code(cores.add(dimmerCore, { title: ' ' }))).toBe('bad-input');
    expect(cores.list()).toEqual([]);
  });
});

describe('builds', () => {
  test('are numbered in order within their core', () => {
    const store = opened(temporaryFolder());
    const first = value(store.cores.add(dimmerCore)).core;
    const other = value(store.cores.add(dimmerCore)).core;
    const fields = { title: 'high-voltage winding removed', joint: 'as-welded', shunts: 'out' } as const;
    const second = value(
      store.builds.add(first.coreId, fields, [primary, { ...primary, label: 'Heater side', role: 'other' }]),
    );
    expect(second).toMatchObject({ number: 2, fields, hasRuns: false });
    expect(second.windings.map(({ fields: { label } }) => label)).toEqual(['Mains side', 'Heater side']);
    expect(value(store.builds.add(other.coreId, fields, [])).number).toBe(2);
    expect(value(store.builds.add(first.coreId, fields, [])).number).toBe(3);
    expect(store.builds.listOf(first.coreId).map(({ number }) => number)).toEqual([1, 2, 3]);
    expect(store.builds.get(second.buildId)).toEqual(second);
    expect(code(store.builds.add(99, fields, []))).toBe('not-found');
  });

  test('that hold one winding that does not fit are not added at all', () => {
    const store = opened(temporaryFolder());
    const { core } = value(store.cores.add(dimmerCore));
    const fields = { title: 'rewound', joint: 'as-welded', shunts: 'out' } as const;
    const odd: WindingFields = { ...primary, turns: { kind: 'counted', turns: 0.3 } };
    expect(code(store.builds.add(core.coreId, fields, [primary, odd]))).toBe('bad-input');
    expect(store.builds.listOf(core.coreId)).toHaveLength(1);
  });
});

describe('windings', () => {
  test('are added and revised by further rows', () => {
    const store = opened(temporaryFolder());
    const { build } = value(store.cores.add(dimmerCore));
    const winding = value(store.builds.addWinding(build.buildId, primary));
    const revised = value(
      store.builds.reviseWinding(winding.windingId, 'looked again', { ...primary, label: 'Plug side' }),
    );
    expect(revised).toMatchObject({
      windingId: winding.windingId,
      replaces: winding.revisionId,
      reason: 'looked again',
    });
    expect(store.builds.get(build.buildId)?.windings).toEqual([revised]);
    expect(store.builds.windingHistory(winding.windingId)).toEqual([winding, revised]);
    expect(store.builds.ofWinding(winding.windingId)?.buildId).toBe(build.buildId);
    expect(store.builds.ofWinding(99)).toBeNull();
    expect(code(store.builds.addWinding(99, primary))).toBe('not-found');
    expect(code(store.builds.reviseWinding(99, 'why', primary))).toBe('not-found');
  });

  test('of a build with runs take what was found out and nothing else', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const { build, winding } = setting;
    expect(store.builds.get(build.buildId)?.hasRuns).toBe(false);
    const run = started(store, setting);
    expect(store.builds.get(build.buildId)?.hasRuns).toBe(true);
    expect(code(store.builds.addWinding(build.buildId, primary))).toBe('build-in-use');
    const refused = store.builds.reviseWinding(winding.windingId, 'why', { ...primary, role: 'secondary' });
    expect(refused).toMatchObject({ failure: { code: 'build-in-use', path: 'fields.role' } });

    const result = value(
      store.results.keep({
        buildId: build.buildId,
        runId: run.runId,
        calculation: 'test-coil',
        version: 1,
        input: {},
        output: {},
        readingIds: [],
      }),
    );
    const turns = { kind: 'estimated', value: 120.2, u: 0.4, resultId: result.resultId } as const;
    const found = value(store.builds.reviseWinding(winding.windingId, 'test coil', { ...primary, turns }));
    expect(store.builds.get(build.buildId)?.windings).toEqual([found]);
    expect(
      code(store.builds.reviseWinding(winding.windingId, 'w', { ...primary, turns: { ...turns, resultId: 99 } })),
    ).toBe('not-found');
  });
});

describe('meters', () => {
  test('keep every description, and are retired without losing it', () => {
    const { meters } = opened(temporaryFolder());
    const first = value(meters.add(handMeter));
    const second = value(meters.revise(first.meterId, null, { ...handMeter, maxVolts: 600 }));
    const other = value(meters.add({ ...handMeter, label: 'Clamp' }));
    expect(meters.list()).toEqual([second, other]);
    const gone = value(meters.retire(first.meterId, 'lost'));
    expect(gone).toMatchObject({
      replaces: second.revisionId,
      reason: 'lost',
      retired: true,
      description: second.description,
    });
    expect(meters.list()).toEqual([other]);
    expect(meters.get(first.meterId)).toEqual(gone);
    expect(meters.revision(first.revisionId)).toEqual(first);
    expect(meters.revision(99)).toBeNull();
    expect(code(meters.revise(first.meterId, null, handMeter))).toBe('not-found');
    expect(code(meters.retire(first.meterId, 'again'))).toBe('not-found');
    expect(code(meters.retire(99, 'why'))).toBe('not-found');
    expect(code(meters.add({ ...handMeter, label: '' }))).toBe('bad-input');
  });

  test('that were retired are still what their runs name', () => {
    const store = opened(temporaryFolder());
    const setting = furnished(store);
    const run = started(store, setting);
    write(store, [reading(store, run, 10, 230)]);
    value(store.meters.retire(setting.meter.meterId, 'broken'));
    const revisionId = store.runs.get(run.runId)?.channels[0]?.meterRevisionId ?? 0;
    expect(store.meters.revision(revisionId)?.description).toEqual(handMeter);
  });
});

describe('settings', () => {
  test('are those at first until something is chosen, and then the latest', () => {
    const folder = temporaryFolder();
    const store = opened(folder);
    expect(store.settings.get()).toEqual(settingsAtFirst);
    value(store.settings.save({ ...settingsAtFirst, units: 'us' }));
    const last = value(store.settings.save({ ...settingsAtFirst, mainsVolts: 120, mainsHertz: 60 }));
    store.close();
    expect(opened(folder).settings.get()).toEqual(last);
  });

  test('that do not fit are refused', () => {
    const { settings } = opened(temporaryFolder());
    expect(code(settings.save({ ...settingsAtFirst, mainsVolts: NaN }))).toBe('bad-input');
    expect(settings.get()).toEqual(settingsAtFirst);
  });
});
