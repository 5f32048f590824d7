import type { Build } from '../record/build.ts';
import type { PlanVersion } from '../record/plan.ts';
import type { Comparison } from './comparison.ts';
import type { ComparedCurve } from './curves.ts';
import type { PredictedRow } from './outcome.ts';
import { windingChanges } from './sentence.ts';
import type { BuildRecord } from './build-record.ts';

/** Who measured a build, when, and in how many runs; null where nothing was measured on it. */
export interface MeasuredBy {
  readonly who: readonly string[];
  readonly firstWallMs: number;
  readonly lastWallMs: number;
  readonly runs: number;
}

/** One reason to trust a comparison, or not to. */
export interface TrustLine {
  readonly kind: 'well' | 'caution';
  readonly text: string;
}

/** What a stranger has to know besides the figures. */
export interface Told {
  /** What was done between the two builds, each as a phrase; empty where the record tells of nothing. */
  readonly done: readonly string[];
  readonly measured: readonly [before: MeasuredBy | null, after: MeasuredBy | null];
  readonly trust: readonly TrustLine[];
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const worded = (word: string): string => word.replaceAll('-', ' ');

/** What was done to the core and its windings, as far as the record of the two builds tells. */
function doneBetween(before: Build, after: Build): readonly string[] {
  const [had, has] = [before.fields, after.fields];
  const changed = (name: string, from: string | undefined, to: string | undefined) => {
    if (to === undefined || to === '' || from === to) return [];
    return [from === undefined || from === '' ? `${name}: ${to}` : `${name}: ${to}, before ${from}`];
  };
  return [
    ...windingChanges(before, after).map(capital),
    ...(had.joint === has.joint ? [] : [`Joint ${worded(has.joint)}, before ${worded(had.joint)}`]),
    ...(had.shunts === has.shunts ? [] : [`Shunts ${worded(has.shunts)}, before ${worded(had.shunts)}`]),
    ...changed('Separation', had.separation, has.separation),
    ...changed('Varnish', had.varnish, has.varnish),
    ...changed('Cured on', had.curedOn, has.curedOn),
  ];
}

/** Runs that kept results of a build come from. */
const runsOf = ({ build, results, runs }: BuildRecord) =>
  runs.filter(({ runId }) => results.some((result) => result.buildId === build.buildId && result.runId === runId));

function measuredBy(record: BuildRecord): MeasuredBy | null {
  const used = runsOf(record);
  const started = used.map(({ startedWallMs }) => startedWallMs);
  if (started.length === 0) return null;
  const sat = record.sessions.filter(({ sessionId }) => used.some((run) => run.sessionId === sessionId));
  return {
    who: [...new Set(sat.map(({ fields }) => fields.who))],
    firstWallMs: Math.min(...started),
    lastWallMs: Math.max(...started),
    runs: used.length,
  };
}

const counted = (count: number, one: string, more = `${one}s`): string => `${count} ${count === 1 ? one : more}`;

function trustIn(
  records: readonly [BuildRecord, BuildRecord],
  { rows, conditions }: Comparison,
  curves: readonly ComparedCurve[],
  predicted: readonly PredictedRow[],
): readonly TrustLine[] {
  const used = records.flatMap(runsOf);
  const cut = [...new Set(used.filter(({ ending }) => ending === 'tripped' || ending === 'interrupted'))];
  const alone = rows.filter(({ compared }) => compared.reason === 'only-in-one').length;
  const both = rows.length - alone;
  const apart = rows.filter(({ compared }) => compared.verdict === 'not-comparable').length - alone;
  const differing = conditions.filter(({ differs }) => differs).map(({ name }) => name.toLowerCase());
  const judged = predicted.filter(({ kind }) => kind !== 'not-measured' && kind !== 'cannot-tell');
  const held = judged.filter(({ kind }) => kind === 'as-predicted').length;
  const well = (text: string): TrustLine => ({ kind: 'well', text });
  const caution = (text: string): TrustLine => ({ kind: 'caution', text });
  return [
    ...(used.some(({ practice }) => practice) ? [caution('Practice: nothing of it was measured.')] : []),
    ...cut.map(({ runId, ending }) => caution(`Run ${runId} was ${ending} before its end.`)),
    ...(both === 0
      ? []
      : [
          apart === 0
            ? well(`All ${counted(both, 'quantity', 'quantities')} that were measured on both can be compared.`)
            : caution(`${apart} of ${counted(both, 'quantity', 'quantities')} measured on both cannot be compared.`),
        ]),
    ...(alone === 0 ? [] : [caution(`${counted(alone, 'quantity', 'quantities')} measured on one of them only.`)]),
    ...(records.some((record) => runsOf(record).length === 0)
      ? []
      : [
          differing.length === 0
            ? well('Both were measured under the same conditions, as far as they were noted.')
            : caution(`Not alike: ${differing.join(', ')}. What is done about each stands below.`),
        ]),
    ...curves.flatMap(({ rests, candidates }) => {
      if (rests === null) return [];
      return candidates.length === 0
        ? [well('The points of both lie on one curve, so the turn counts fit each other.')]
        : [caution('The points of both do not lie on one curve: the candidates are named beside it.')];
    }),
    ...(judged.length === 0
      ? []
      : [
          (held === judged.length ? well : caution)(
            `${held} of ${counted(judged.length, 'predicted figure')} came out within the predicted interval.`,
          ),
        ]),
  ];
}

/** Which plan a build was wound by, as a phrase. */
export const planFollowed = ({ number, fields }: Pick<PlanVersion, 'number' | 'fields'>): string =>
  `Wound by version ${number} of the plan “${fields.title}”`;

/** What was done between two builds, who measured them and when, and what speaks for and against trusting it. */
export const toldOf = (
  before: BuildRecord,
  after: BuildRecord,
  comparison: Comparison,
  curves: readonly ComparedCurve[],
  predicted: readonly PredictedRow[],
): Told => ({
  done:
    before.build.coreId === after.build.coreId
      ? doneBetween(before.build, after.build)
      : ['Two cores, side by side as they are'],
  measured: [measuredBy(before), measuredBy(after)],
  trust: trustIn([before, after], comparison, curves, predicted),
});
