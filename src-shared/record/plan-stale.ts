import * as v from 'valibot';
import { WindingFields, type Build, type Winding } from './build.ts';
import { canonicalJson } from './canonical.ts';
import { CoreFields, type Core } from './core.ts';
import { recordId, wallMs } from './field.ts';
import type { PlanFields } from './plan.ts';
import type { Result } from './run.ts';

/** One thing that changed since a plan was made: what it stood on, and what stands there now. */
export const StaleMark = v.variant('kind', [
  v.strictObject({ kind: v.literal('core'), before: CoreFields, after: CoreFields, reason: v.nullable(v.string()) }),
  v.strictObject({
    kind: v.literal('winding'),
    before: WindingFields,
    after: WindingFields,
    reason: v.nullable(v.string()),
  }),
  v.strictObject({ kind: v.literal('winding-added'), after: WindingFields }),
  /** A newer result of a calculation: of one that it stood on, or the first where it had none (`isFirst`). */
  v.strictObject({
    kind: v.literal('result'),
    calculation: v.string(),
    resultId: recordId,
    wallMs,
    isFirst: v.boolean(),
  }),
]);
export type StaleMark = v.InferOutput<typeof StaleMark>;

/** The record as it is now, as far as a plan can stand on it. */
export interface PlanGround {
  /** Every row of the core, oldest first. */
  readonly coreHistory: readonly Core[];
  readonly build: Build;
  /** Every row of every winding of the build. */
  readonly windingRows: readonly Winding[];
  /** Of the build, oldest first. */
  readonly results: readonly Result[];
}

/** Results that a plan is worked out from: turns, leakage, heat, and the curve of added turns. */
export const planCalculations = ['test-coil', 'short-circuit', 'heat-run', 'excitation'] as const;

/** What a label or a note says changes no plan. */
const notTelling = ['label', 'origin', 'note', 'demonstration'];
const isTelling = (name: string): boolean => !notTelling.includes(name);

const told = (fields: object): string | null =>
  canonicalJson(Object.fromEntries(Object.entries(fields).filter(([name]) => isTelling(name))));
const differ = (a: object, b: object): boolean => told(a) !== told(b);

function coreMarks(coreRevisionId: number, history: readonly Core[]): readonly StaleMark[] {
  const before = history.find(({ revisionId }) => revisionId === coreRevisionId);
  const after = history.at(-1);
  return before === undefined || after === undefined || !differ(before.fields, after.fields)
    ? []
    : [{ kind: 'core', before: before.fields, after: after.fields, reason: after.reason }];
}

function windingMarks(stoodOn: readonly number[], { build, windingRows }: PlanGround): readonly StaleMark[] {
  const before = windingRows.filter(({ revisionId }) => stoodOn.includes(revisionId));
  return build.windings.flatMap((after): readonly StaleMark[] => {
    const was = before.find(({ windingId }) => windingId === after.windingId);
    if (was === undefined) return [{ kind: 'winding-added', after: after.fields }];
    return differ(was.fields, after.fields)
      ? [{ kind: 'winding', before: was.fields, after: after.fields, reason: after.reason }]
      : [];
  });
}

function resultMarks(stoodOn: readonly number[], results: readonly Result[]): readonly StaleMark[] {
  const names = new Set(results.map(({ calculation }) => calculation));
  return [...names].flatMap((name): readonly StaleMark[] => {
    const ofName = results.filter(({ calculation }) => calculation === name);
    const had = ofName.filter(({ resultId }) => stoodOn.includes(resultId)).at(-1);
    const newest = ofName.at(-1);
    if (newest === undefined || newest.resultId === had?.resultId) return [];
    if (had === undefined && !planCalculations.some((one) => one === name)) return [];
    const { resultId, wallMs: at } = newest;
    return [{ kind: 'result', calculation: name, resultId, wallMs: at, isFirst: had === undefined }];
  });
}

/**
 * What changed of the ground that a version stood on: a correction of the core or a winding that says more than another
 * label or note, a further winding, a newer result. Empty while it stands.
 */
export const staleMarks = ({ rests }: Pick<PlanFields, 'rests'>, ground: PlanGround): readonly StaleMark[] => [
  ...coreMarks(rests.coreRevisionId, ground.coreHistory),
  ...windingMarks(rests.windingRevisionIds, ground),
  ...resultMarks(rests.resultIds, ground.results),
];
