import { describe, expect, test } from 'vitest';
import { code, dimmerCore, furnished, primary, value } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';
import { cutterNeed, cutterOutput, cutterPlan } from './plan-fixture.ts';

/** A core with a primary, and the rows that a plan for it stands on. */
function planned() {
  const folder = temporaryFolder();
  const store = opened(folder);
  const held = furnished(store);
  const result = value(
    store.results.keep({
      buildId: held.build.buildId,
      runId: null,
      calculation: 'test-coil',
      version: 1,
      input: {},
      output: {},
      readingIds: [],
    }),
  );
  const rests = {
    coreRevisionId: held.core.revisionId,
    windingRevisionIds: [held.winding.revisionId],
    resultIds: [result.resultId],
  };
  return { folder, store, ...held, result, rests };
}

describe('needs', () => {
  test('are added, corrected with a reason, and taken off the list; their rows stay', () => {
    const { needs } = opened(temporaryFolder());
    const first = value(needs.add(cutterNeed));
    const warmer = value(needs.revise(first.needId, 'measured in summer', { ...cutterNeed, ambientCelsius: 31 }));
    expect(warmer).toMatchObject({ needId: first.needId, replaces: first.revisionId, reason: 'measured in summer' });
    expect(needs.list()).toEqual([warmer]);
    const off = value(needs.retire(first.needId, 'the bow was sold'));
    expect(needs.list()).toEqual([]);
    expect(needs.get(first.needId)).toEqual(off);
    expect(off).toMatchObject({ retired: true, fields: warmer.fields });
    expect(code(needs.retire(first.needId, 'again'))).toBe('not-found');
    expect(code(needs.revise(9, 'why', cutterNeed))).toBe('not-found');
  });

  test('that cannot be are refused with their place: half-wave, no amps, a time on of nothing', () => {
    const { needs } = opened(temporaryFolder());
    const use = { kind: 'on-off', onMinutes: 0, offMinutes: 5 } as const;
    // What a page could send although its form has no such choice.
    const halfWave = JSON.parse(JSON.stringify({ ...cutterNeed, feeds: 'half-wave' })) as typeof cutterNeed;
    expect(needs.add(halfWave)).toMatchObject({ failure: { code: 'bad-input', path: 'feeds' } });
    expect(needs.add({ ...cutterNeed, amps: 0 })).toMatchObject({ failure: { code: 'bad-input', path: 'amps' } });
    expect(needs.add({ ...cutterNeed, use })).toMatchObject({ failure: { path: 'use.onMinutes' } });
    expect(needs.list()).toEqual([]);
  });
});

describe('plans', () => {
  test('keep every version in order, each naming the one before it, and are there after the program is started again', () => {
    const { folder, store, build, core, rests } = planned();
    const need = value(store.needs.add(cutterNeed));
    const first = value(store.plans.add(build.buildId, cutterPlan(rests, { needId: need.needId })));
    const second = value(store.plans.revise(first.planId, null, cutterPlan(rests, { addedTurns: 6.5 })));
    const third = value(store.plans.revise(first.planId, 'the first after all', first.fields));
    expect([first, second, third].map(({ number, replaces, reason }) => [number, replaces, reason])).toEqual([
      [1, null, null],
      [2, first.revisionId, null],
      [3, second.revisionId, 'the first after all'],
    ]);
    expect(third.fields).toEqual(first.fields);
    const whole = { planId: first.planId, buildId: build.buildId, versions: [first, second, third] };
    store.close();
    const again = opened(folder);
    expect(again.plans.get(first.planId)).toEqual(whole);
    expect(again.plans.ofCore(core.coreId)).toEqual([whole]);
  });

  test('are remembered by the build that was wound by one of their versions, and by no other core', () => {
    const { folder, store, build, core, rests } = planned();
    const { planId, revisionId } = value(store.plans.add(build.buildId, cutterPlan(rests)));
    const second = value(store.plans.revise(planId, null, cutterPlan(rests, { addedTurns: 6.5 })));
    const fields = { title: 'as planned', joint: 'as-welded', shunts: 'none', planRevisionId: revisionId } as const;
    const wound = value(store.builds.add(core.coreId, fields, [{ ...primary, wire: '1.4 mm', strands: 2 }]));
    const other = value(store.cores.add(dimmerCore));
    expect(store.builds.add(other.core.coreId, fields, [])).toMatchObject({
      failure: { code: 'not-found', path: 'planRevisionId' },
    });
    store.close();
    const again = opened(folder);
    expect(again.builds.get(wound.buildId)?.fields.planRevisionId).toBe(revisionId);
    expect(again.builds.get(wound.buildId)?.windings[0]?.fields).toMatchObject({ wire: '1.4 mm', strands: 2 });
    expect(again.plans.version(revisionId)).toMatchObject({ planId, number: 1, fields: { addedTurns: 0 } });
    expect(again.plans.version(second.revisionId)).toMatchObject({ number: 2, fields: { addedTurns: 6.5 } });
    expect(again.plans.version(99)).toBeNull();
  });

  test('stand only on rows of their own build and core', () => {
    const { store, build, rests } = planned();
    const other = value(store.cores.add(dimmerCore));
    const strange = value(store.builds.addWinding(other.build.buildId, { ...primary, label: 'Strange' }));
    const foreign = [
      { ...rests, coreRevisionId: other.core.revisionId },
      { ...rests, windingRevisionIds: [strange.revisionId] },
      { ...rests, resultIds: [99] },
    ];
    for (const each of foreign) expect(code(store.plans.add(build.buildId, cutterPlan(each)))).toBe('not-found');
    expect(code(store.plans.add(99, cutterPlan(rests)))).toBe('not-found');
    expect(code(store.plans.add(build.buildId, cutterPlan(rests, { needId: 9 })))).toBe('not-found');
    expect(code(store.plans.revise(9, null, cutterPlan(rests)))).toBe('not-found');
    expect(store.plans.ofCore(1)).toEqual([]);
  });

  test('refuse outputs with the same key, a third of a turn, and more outputs than a window is drawn with', () => {
    const { store, build, rests } = planned();
    const refused = [
      { outputs: [cutterOutput, cutterOutput] },
      { outputs: [{ ...cutterOutput, turns: 22.3 }] },
      { outputs: [] },
      { outputs: Array.from({ length: 7 }, (_, at) => ({ ...cutterOutput, key: `k${at}` })) },
      { addedTurns: 0.3 },
    ];
    for (const each of refused) expect(code(store.plans.add(build.buildId, cutterPlan(rests, each)))).toBe('bad-input');
  });
});

describe('the tally', () => {
  test('is the newest mark of each output, down again too, and survives a stop', () => {
    const { folder, store, build, rests } = planned();
    const second = { ...cutterOutput, key: 'b', label: 'Lamp' };
    const { planId } = value(store.plans.add(build.buildId, cutterPlan(rests, { outputs: [cutterOutput, second] })));
    for (const turns of [1, 2, 3, 2]) value(store.tallies.mark(planId, 'a', turns));
    value(store.tallies.mark(planId, 'b', 0.5));
    store.close();
    const again = opened(folder);
    expect(again.tallies.ofPlan(planId).map(({ output, turns }) => [output, turns])).toEqual([
      ['a', 2],
      ['b', 0.5],
    ]);
    expect(code(again.tallies.mark(planId, 'c', 1))).toBe('not-found');
    expect(code(again.tallies.mark(9, 'a', 1))).toBe('not-found');
    expect(code(again.tallies.mark(planId, 'a', -1))).toBe('bad-input');
  });

  test('has the time at which it was pressed, but none that is still to come', () => {
    const { store, build, rests } = planned();
    const { planId } = value(store.plans.add(build.buildId, cutterPlan(rests)));
    const now = value(store.tallies.mark(planId, 'a', 1)).wallMs;
    expect(value(store.tallies.mark(planId, 'a', 2, now - 60_000)).wallMs).toBe(now - 60_000);
    expect(value(store.tallies.mark(planId, 'a', 3, now + 86_400_000)).wallMs).toBeLessThan(now + 60_000);
    // In the order in which they came, whatever their times.
    expect(store.tallies.ofPlan(planId)).toMatchObject([{ output: 'a', turns: 3 }]);
  });

  test('goes on with an output that a later version left out', () => {
    const { store, build, rests } = planned();
    const other = { ...cutterOutput, key: 'b' };
    const { planId } = value(store.plans.add(build.buildId, cutterPlan(rests)));
    value(store.plans.revise(planId, null, cutterPlan(rests, { outputs: [other] })));
    expect(value(store.tallies.mark(planId, 'a', 7)).turns).toBe(7);
  });
});
