import type { Caution } from '../calculation/answer.ts';
import type { Chart } from '../chart/chart.ts';
import type { Build } from '../record/build.ts';
import type { Result } from '../record/run.ts';
import { heatRunsOver, loadLinesOver, type KeptOf } from './laid-over.ts';
import { curvePointsOf, oneCurve } from './one-curve.ts';
import type { BuildRecord } from './build-record.ts';
import { chosenResults, type Chosen } from './side.ts';

/** Curves of two builds laid over each other, with what they show in a few words and why it may be so. */
export interface ComparedCurve {
  readonly title: string;
  /** How many points of which build the verdict rests on; null where there is no verdict. */
  readonly rests: string | null;
  readonly chart: Chart;
  readonly candidates: readonly Caution[];
}

const drawn = (chart: Chart | null): readonly ComparedCurve[] =>
  chart === null ? [] : [{ title: chart.title, rests: null, chart, candidates: [] }];

function keptOf({ runs }: BuildRecord, kept: Chosen, calculation: string): KeptOf | null {
  const result = kept.get(calculation);
  return result === undefined ? null : { result, run: runs.find(({ runId }) => runId === result.runId) ?? {} };
}

/** Every curve that both builds have: only builds of one core can lie on one curve of excitation. */
export function comparedCurves(
  before: BuildRecord,
  after: BuildRecord,
  names: readonly [before: string, after: string],
): readonly ComparedCurve[] {
  const [kept, keptAfter] = chosenResults(before, after);
  const isOneCore = before.build.coreId === after.build.coreId;
  const excitation = isOneCore ? oneCurve(curvePointsOf(before), curvePointsOf(after), names) : null;
  const over = (laid: typeof heatRunsOver, calculation: string) =>
    drawn(laid(keptOf(before, kept, calculation), keptOf(after, keptAfter, calculation), names));
  return [
    ...(excitation === null ? [] : [excitation]),
    ...over(heatRunsOver, 'heat-run'),
    ...over(loadLinesOver, 'loaded-run'),
  ];
}

/**
 * The points of one result on the curve of an earlier build of the same core: of the nearest one that has points of its own.
 * Null where none has, or the result has none.
 */
export function onOldCurve(
  { build, results, runs, sessions, meterKinds, meterNames }: BuildRecord,
  builds: readonly Build[],
  result: Result,
): ComparedCurve | null {
  const rest = { runs, sessions, meterKinds, meterNames };
  const now = curvePointsOf({ ...rest, build, results: [result] });
  const earlier = builds.filter(({ number }) => number < build.number).toReversed();
  for (const before of earlier) {
    const known = curvePointsOf({ ...rest, build: before, results });
    if (known !== null) return oneCurve(known, now, [`Build ${before.number}`, `Build ${build.number}`]);
  }
  return null;
}
