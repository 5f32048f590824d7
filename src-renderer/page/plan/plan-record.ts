import * as v from 'valibot';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { filmedWire } from '../../../src-shared/calculation/film.ts';
import { turnsKnown, type Build, type Winding, type WindingFields } from '../../../src-shared/record/build.ts';
import type { Core, CoreFields } from '../../../src-shared/record/core.ts';
import { planCalculations } from '../../../src-shared/record/plan-stale.ts';
import type { PlanFields } from '../../../src-shared/record/plan.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import { noLoadHeat } from '../../../src-shared/record/heat-results.ts';
import { primaryOf } from '../../../src-shared/record/primary.ts';
import { usual, type PlanNumbers } from './plan-asked.ts';

/** What a plan rests on: one build of one core, and what was found out about it. */
export interface PlanBasis {
  readonly core: CoreFields;
  readonly coreRevisionId: number;
  readonly build: Build;
  readonly primary: WindingFields | undefined;
  /** Turns of the primary as a calculation takes them; null when not known. */
  readonly turns: { readonly value: number; readonly u: number } | null;
  readonly results: readonly Result[];
}

export function basisOf(core: Core, build: Build, results: readonly Result[]): PlanBasis {
  const primary = primaryOf(build)?.fields;
  return {
    core: core.fields,
    coreRevisionId: core.revisionId,
    build,
    primary,
    turns: primary === undefined ? null : turnsKnown(primary.turns),
    results: results.filter(({ buildId }) => buildId === build.buildId),
  };
}

/** The rows and results that a plan made now stands on: of each calculation that it is worked out from, the newest. */
export function restsOf({ coreRevisionId, build, results }: PlanBasis): PlanFields['rests'] {
  const newest = planCalculations.flatMap((name) => {
    const last = results.findLast(({ calculation }) => calculation === name);
    return last === undefined ? [] : [last.resultId];
  });
  const windingRevisionIds = build.windings.map(({ revisionId }) => revisionId);
  return { coreRevisionId, windingRevisionIds, resultIds: newest };
}

/** Room that film takes where no table tells: common practice, no source. */
export const filmShare = 1.05;

/** How high a winding reaches, laid in full layers with the usual insulation; null when not known. */
function heightOf(core: CoreFields, winding: WindingFields | undefined): number | null {
  const bare = winding?.bareDiameter?.value;
  const turns = winding === undefined ? null : turnsKnown(winding.turns);
  if (bare === undefined || turns === null || core.windowWidth === undefined || core.windowHeight === undefined) {
    return null;
  }
  const answer = calculate('window-fit', {
    windowWidthMm: core.windowWidth.value,
    windowHeightMm: core.windowHeight.value,
    baseMm: usual.base ?? 0,
    marginMm: usual.margin ?? 0,
    interlayerMm: usual.interlayer ?? 0,
    turns: Math.max(1, Math.round(turns.value)),
    overallDiameterMm: filmedWire('iec-grade-2', bare)?.largestOverallMm ?? bare * filmShare,
  });
  return answer.ok && answer.results.fits ? Number(answer.results.buildHeight.value.toFixed(1)) : null;
}

export const primaryBuildMm = ({ core, primary }: PlanBasis): number | null => heightOf(core, primary);

/** A winding besides the primary, with the height that it takes if it stays; null when that is not known. */
export interface OtherWinding {
  readonly winding: Winding;
  readonly heightMm: number | null;
}

/** The windings of the build that stay unless the person says that they come off; a test coil comes off anyway. */
export const othersOf = ({ core, build }: PlanBasis): readonly OtherWinding[] =>
  build.windings
    .filter(({ fields: { role } }) => role !== 'primary' && role !== 'test-coil')
    .map((winding) => ({ winding, heightMm: heightOf(core, winding.fields) }));

const number = v.pipe(v.number(), v.finite());
const Physical = v.looseObject({ value: number, u: v.nullish(number) });
const Heat = v.looseObject({ results: v.looseObject({ finalRise: Physical, timeConstant: Physical }) });
const Short = v.looseObject({ results: v.looseObject({ reactance: Physical }) });

interface Found<T> {
  readonly result: Result;
  readonly output: T;
}

function latest<S extends v.GenericSchema>(
  results: readonly Result[],
  name: string,
  schema: S,
): Found<v.InferOutput<S>> | null {
  for (const result of results.toReversed()) {
    if (result.calculation !== name) continue;
    const parsed = v.safeParse(schema, result.output);
    if (parsed.success) return { result, output: parsed.output };
  }
  return null;
}

/** The leakage reactance by the last short-circuit test of the build, seen from the primary, in Ω. */
export interface Leakage {
  readonly ohms: number;
  readonly u: number | null;
  readonly wallMs: number;
}

/**
 * Leakage by the last short-circuit test: null without one, and where it is not known which winding was fed. Fed into
 * another winding than the primary, it is referred by the turns of both. `fedInRun`: the winding that a run was fed into.
 */
export function leakageOf(basis: PlanBasis, fedInRun: (runId: number) => number | null): Leakage | null {
  const found = latest(basis.results, 'short-circuit', Short);
  const runId = found?.result.runId ?? null;
  if (found === null || runId === null) return null;
  const fedId = fedInRun(runId);
  const fed = basis.build.windings.find(({ windingId }) => windingId === fedId);
  const turns = fed === undefined ? null : turnsKnown(fed.fields.turns);
  if (fed === undefined || (fed.fields.role !== 'primary' && (turns === null || basis.turns === null))) return null;
  const factor = fed.fields.role === 'primary' ? 1 : ((basis.turns?.value ?? 0) / (turns?.value ?? 1)) ** 2;
  const { value, u } = found.output.results.reactance;
  return { ohms: value * factor, u: u === undefined || u === null ? null : u * factor, wallMs: found.result.wallMs };
}

/** A short-circuit test is kept for this build. */
export const hasShortCircuit = ({ results }: PlanBasis): boolean => latest(results, 'short-circuit', Short) !== null;

/**
 * Windings that stay and whose thickness nobody knows: nothing is taken off the window for them. `off`: windings that come
 * off first.
 */
export function unmeasuredOf(basis: PlanBasis, off: readonly number[]): readonly string[] {
  const { primary } = basis;
  const others = othersOf(basis).filter(
    ({ winding, heightMm }) => heightMm === null && !off.includes(winding.windingId),
  );
  return [
    ...(primary !== undefined && primaryBuildMm(basis) === null ? [primary.label] : []),
    ...others.map(({ winding }) => winding.fields.label),
  ];
}

/**
 * The room as the record has it: what is under the outputs, and what is free. What is under them is left out while the
 * thickness of the primary is not known. `off`: windings that come off first.
 */
export function roomOf(
  basis: PlanBasis,
  off: readonly number[] = [],
): Pick<PlanNumbers, 'inner' | 'windowWidth' | 'windowHeight'> {
  const { core } = basis;
  const stays = othersOf(basis)
    .filter(({ winding }) => !off.includes(winding.windingId))
    .reduce((sum, { heightMm }) => sum + (heightMm ?? 0), 0);
  const primary = primaryBuildMm(basis);
  const inner = Number(((primary ?? 0) + stays).toFixed(1));
  return {
    ...(primary === null ? {} : { inner }),
    ...(core.windowWidth === undefined ? {} : { windowWidth: Math.max(0, core.windowWidth.value - inner) }),
    ...(core.windowHeight === undefined ? {} : { windowHeight: core.windowHeight.value }),
  };
}

/** Figures that the record already has, to begin a plan with. */
export function startOf(basis: PlanBasis, mainsVolts: number): PlanNumbers {
  const { primary, results } = basis;
  const heat = latest(
    results.filter((one) => one === noLoadHeat(results)),
    'heat-run',
    Heat,
  )?.output.results;
  const bare = primary?.bareDiameter?.value;
  return {
    ...usual,
    primaryVolts: mainsVolts,
    ...roomOf(basis),
    ...(bare === undefined ? {} : { addedWire: bare }),
    // The rise of a heat run is that with no load: the plan works out the one with it.
    ...(heat === undefined ? {} : { minutes: heat.timeConstant.value / 60 }),
  };
}
