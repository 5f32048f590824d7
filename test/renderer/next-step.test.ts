import { describe, expect, test } from 'vitest';
import { nextStep, type StandOfCore } from '../../src-renderer/page/core/next-step.ts';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import type { PlanWhole } from '../../src-shared/contract/plan-view.ts';
import type { Build, BuildFields, WindingFields } from '../../src-shared/record/build.ts';
import type { Result } from '../../src-shared/record/run.ts';
import { cutterPlan } from '../main/store/plan-fixture.ts';
import { dimmerCore, ovenCore, primary, secondary } from './shelf-fixture.ts';

const build = (number: number, windings: readonly WindingFields[], fields: Partial<BuildFields> = {}): Build => ({
  buildId: number,
  coreId: 1,
  number,
  wallMs: 0,
  fields: { title: `build ${number}`, joint: 'as-welded', shunts: 'none', ...fields },
  windings: windings.map((winding, index) => {
    const windingId = 10 * number + index;
    return { windingId, revisionId: windingId, replaces: null, reason: null, wallMs: 0, fields: winding };
  }),
  hasRuns: false,
});
const kept = (calculation: string, buildId: number, input: unknown = {}): Result => ({
  resultId: 1,
  buildId,
  runId: 1,
  calculation,
  version: 1,
  wallMs: 0,
  input,
  output: JSON.parse(JSON.stringify(calculate(calculation, input))),
});
const plan = (stale: PlanWhole['versions'][number]['stale']): PlanWhole => ({
  planId: 3,
  buildId: 1,
  versions: [
    {
      planId: 3,
      revisionId: 31,
      number: 1,
      replaces: null,
      reason: null,
      wallMs: 0,
      fields: cutterPlan({ coreRevisionId: 1, windingRevisionIds: [], resultIds: [] }),
      stale,
    },
  ],
});
const [first, second] = [build(1, [primary]), build(2, [primary, secondary])];
const step = (given: Partial<StandOfCore>) =>
  nextStep({
    coreId: 1,
    fields: dimmerCore,
    build: first,
    builds: given.build === undefined ? [first] : [first, given.build],
    results: [],
    plans: [],
    today: '2026-11-25',
    ...given,
  });

describe('the next step', () => {
  test('of a core from an appliance begins with the capacitor, and names what is wound on it', () => {
    const bare = build(1, []);
    const found = step({ fields: ovenCore, build: bare, builds: [bare] });
    expect(found).toMatchObject({ title: 'Next: say what is wound on it.', to: { kind: 'primary' } });
    expect(found.why).toMatch(/plug out, capacitors discharged, and proved dead.*thousands of volts in its capacitor/);
  });

  test('is another coil while the turns are open by more than one, until somebody goes on to the curve', () => {
    const rough: WindingFields = { ...primary, turns: { kind: 'estimated', value: 371, u: 3, resultId: null } };
    const open = build(1, [rough]);
    expect(step({ build: open, builds: [open] }).title).toBe('Next: the turns once more, closer.');
    const results = [kept('excitation', 1)];
    expect(step({ build: open, builds: [open], results }).title).toBe('Next: plan what it is to give.');
  });

  test('goes from the curve to a plan, to the winding, and back to the plan when its figures are others', () => {
    expect(step({}).title).toBe('Next: the no-load curve.');
    const results = [kept('excitation', 1)];
    expect(step({ results })).toMatchObject({ to: { place: { kind: 'plan', buildId: 1 } } });
    expect(step({ results, plans: [plan([])] })).toMatchObject({
      title: 'Next: wind it, by version 1 of “Foam cutter supply”.',
      to: { place: { kind: 'wound', coreId: 1, planRevisionId: 31 } },
    });
    const newer = { kind: 'result', calculation: 'excitation', resultId: 9, wallMs: 0, isFirst: false } as const;
    expect(step({ results, plans: [plan([newer])] }).title).toBe('Next: look at the plan again.');
  });

  test('of a build that was wound: varnish, insulation, no-load, turns, heat, load, compare', () => {
    const wet = build(2, [primary, secondary], { curedOn: '2026-11-27' });
    expect(step({ build: wet })).toMatchObject({ title: 'Next: wait until 2026-11-27.', to: null });
    const titles: string[] = [];
    const results: Result[] = [];
    const adjusted = (volts: number) =>
      kept('adjust-turns', 2, {
        winding: 'Secondary',
        measuredVolts: { value: volts, u: 0.05 },
        turns: 41,
        targetVolts: 24,
      });
    for (const next of [
      null,
      kept('insulation-resistance', 2),
      kept('no-load', 2),
      adjusted(23),
      adjusted(24.02),
      kept('heat-run', 2),
      kept('loaded-run', 2),
    ]) {
      if (next !== null) results.push(next);
      titles.push(step({ build: second, results }).title);
    }
    expect(titles).toEqual([
      'Next: insulation, before any power.',
      'Next: a no-load point.',
      'Next: a heat run.',
      'Next: add 2 turns to “Secondary”.',
      'Next: a heat run.',
      'Next: a loaded run.',
      'Next: compare with build 1.',
    ]);
  });

  test('of a build that another came after is to go there', () => {
    expect(step({ builds: [first, second] })).toMatchObject({
      title: 'This is how it was: build 2 is the latest.',
      to: { place: { kind: 'core', buildId: 2 } },
    });
  });
});
