import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { Answer } from '../../../src-shared/calculation/answer.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import { inputOf } from '../../../src-shared/procedure/material.ts';
import type { KeptPoint, Run } from '../../../src-shared/record/run.ts';
import type { PlanBasis } from './plan-record.ts';

export type AddedAnswer = Answer<ResultsOf['excitation']>;
export type AddedResults = ResultsOf['excitation'];
export type Prediction = AddedResults['predictions'][number];

/** The newest no-load sweep of a build; undefined without one. */
export const newestSweep = (runs: readonly Run[], buildId: number): Run | undefined =>
  runs
    .filter((run) => run.buildId === buildId && run.procedure === 'no-load-sweep')
    .reduce<Run | undefined>(
      (newest, run) => (newest === undefined || run.runId > newest.runId ? run : newest),
      undefined,
    );

/** A curve needs this many points. */
export const fewestPoints = 3;

/** Points that stand and have both volts and amps, as `excitation` takes them. */
export function curvePoints(points: readonly KeptPoint[], supplyKind: string, hertz: number) {
  return points.flatMap((point) => {
    const { withdrawn, fields } = point;
    const [volts, amps] = [inputOf(point, 'primary-volts'), inputOf(point, 'line-amps')];
    if (withdrawn !== null || volts === undefined || amps === undefined) return [];
    const [watts, average, seen] = ['watts', 'average-volts', 'line-hertz'].map((channel) => inputOf(point, channel));
    return [
      {
        volts,
        amps,
        ...(watts === undefined ? {} : { watts }),
        ...(average === undefined ? {} : { averageVolts: average }),
        ...(typeof fields['turns'] === 'number' ? { turns: fields['turns'] } : {}),
        hertz: seen ?? hertz,
        supplyKind,
      },
    ];
  });
}

/** How many added turns are worth a look: a fifth of the primary, in steps that a list of predictions holds. */
const most = 0.2;
const steps = 40;

/** Added turns that the slider goes through. */
export function sliderTurns(primaryTurns: number): readonly number[] {
  const step = Math.max(1, Math.ceil((most * primaryTurns) / steps));
  const count = Math.max(1, Math.round((most * primaryTurns) / step));
  return Array.from({ length: count + 1 }, (_, at) => at * step);
}

/** What the person wants of the primary with no load; absent where they set no limit. */
export interface NoLoadLimits {
  readonly amps?: number;
  readonly watts?: number;
  readonly tesla?: number;
}

/** What is asked of the curve besides its points. */
export interface CurveQuestion {
  readonly supplyVolts: number;
  readonly hertz: number;
  /** Predicted too, where the slider does not go. */
  readonly also: number;
  readonly limits: NoLoadLimits;
}

/** What added primary turns would do to the no-load current, loss and flux; null without turns. */
export function addedTurnsAnswer(
  { core, primary, turns }: PlanBasis,
  points: readonly object[],
  { supplyVolts, hertz, also, limits }: CurveQuestion,
): AddedAnswer | null {
  if (turns === null) return null;
  const iron =
    core.tongue === undefined || core.stack === undefined
      ? null
      : calculate('core-rating', {
          tongueMm: core.tongue,
          stackMm: core.stack,
          ...(core.stackingFactor === undefined ? {} : { stackingFactor: core.stackingFactor }),
          kind: 'other',
        });
  const area = iron?.ok === true ? iron.results.ironArea : undefined;
  const asked = new Set([...sliderTurns(turns.value), Math.round(also)]);
  return calculate('excitation', {
    primaryTurns: turns,
    points,
    ...(primary?.ohms === undefined ? {} : { primaryOhms: primary.ohms }),
    supplyVolts,
    addedTurns: [...asked].sort((a, b) => a - b),
    hertz,
    ...(area === undefined ? {} : { ironAreaMm2: { value: area.value, u: area.u } }),
    ...(Object.keys(limits).length === 0 ? {} : { limits }),
  });
}

/** The prediction for so many turns: those asked for, or the nearest whole number that was looked at. */
export const predictionFor = (predictions: readonly Prediction[], turns: number): Prediction | undefined =>
  predictions.reduce<Prediction | undefined>(
    (best, each) =>
      best === undefined || Math.abs(each.addedTurns - turns) < Math.abs(best.addedTurns - turns) ? each : best,
    undefined,
  );
