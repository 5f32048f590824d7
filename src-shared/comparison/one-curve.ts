import * as v from 'valibot';
import type { Caution } from '../calculation/answer.ts';
import { calculate } from '../calculation/calculate.ts';
import type { Chart, Curve } from '../chart/chart.ts';
import { formatNumber } from '../quantity/format.ts';
import { primaryOf, turnsNumber } from '../record/primary.ts';
import type { Result } from '../record/run.ts';
import type { BuildRecord } from './build-record.ts';

/** Whether the points of two builds lie on one curve of volts per turn against ampere-turns, as one core in one state must. */
export interface OneCurve {
  readonly verdict: 'one' | 'apart';
  /** The verdict in a few words. */
  readonly title: string;
  /** How many points of which build it rests on, and how many of them lie apart. */
  readonly rests: string;
  /** Why they may not, each candidate named. */
  readonly candidates: readonly Caution[];
  readonly chart: Chart;
}

const finite = v.pipe(v.number(), v.finite());
const Measured = v.union([finite, v.looseObject({ value: finite })]);
const Point = v.looseObject({ volts: Measured, amps: Measured, turns: v.optional(Measured) });
const Sweep = v.looseObject({ primaryTurns: Measured, points: v.array(Point) });
const NoLoad = v.looseObject({ volts: Measured, amps: Measured, ammeterKind: v.optional(v.string()) });

type Points = v.InferOutput<typeof Point>[];
const plain = (measured: v.InferOutput<typeof Measured>) => (typeof measured === 'number' ? measured : measured.value);

/** The excitation points of one build. */
export interface CurvePoints {
  /** The sweep that they come from; null where they are no-load points taken one by one. */
  readonly sweep: Readonly<Record<string, unknown>> | null;
  readonly points: Points;
}

/** The points of a kept sweep; null when it is none. */
export function sweepPoints(kept: Result | undefined): CurvePoints | null {
  const read = v.safeParse(Sweep, kept?.input);
  if (!read.success) return null;
  const { primaryTurns, points } = read.output;
  return { sweep: read.output, points: points.map((point) => ({ ...point, turns: point.turns ?? primaryTurns })) };
}

/** The no-load points that were kept of a build, each with the turns of its primary; null without any. */
function noLoadPoints({ build, results, runs, sessions }: BuildRecord): CurvePoints | null {
  const turns = turnsNumber(primaryOf(build));
  if (turns === null) return null;
  const points = results.flatMap((result): Points => {
    const read = v.safeParse(NoLoad, result.input);
    if (result.buildId !== build.buildId || result.calculation !== 'no-load' || !read.success) return [];
    const run = runs.find(({ runId }) => runId === result.runId);
    const supply = sessions.find(({ sessionId }) => sessionId === run?.sessionId)?.fields.supply;
    const { volts, amps, ammeterKind } = read.output;
    const meterKind = ammeterKind === 'average-responding' ? 'average' : ammeterKind;
    return [
      {
        volts,
        amps,
        turns,
        ...(meterKind === undefined ? {} : { meterKind }),
        ...(supply === undefined ? {} : { supplyKind: supply.kind, hertz: supply.hertz }),
      },
    ];
  });
  return points.length === 0 ? null : { sweep: null, points };
}

/** What a build has towards a curve: its newest sweep, else its no-load points. */
export const curvePointsOf = (record: BuildRecord): CurvePoints | null =>
  sweepPoints(
    record.results.findLast(
      ({ buildId, calculation }) => buildId === record.build.buildId && calculation === 'excitation',
    ),
  ) ?? noLoadPoints(record);

const counted = (off: number, all: number, name: string): string =>
  off === 0
    ? `${all === 1 ? 'the one' : `all ${all}`} of ${name.toLowerCase()} on it`
    : `${off} of ${all} of ${name.toLowerCase()} apart`;

/**
 * The points of two builds as one: every point with the turns that carried its current, through the calculation
 * `excitation`, which points out what does not fall on the curve of the others. Null where neither build was swept, one has
 * no points, or no curve can be laid through both.
 */
export function oneCurve(
  before: CurvePoints | null,
  after: CurvePoints | null,
  names: readonly [before: string, after: string],
): OneCurve | null {
  const sweep = after?.sweep ?? before?.sweep ?? null;
  if (before === null || after === null || sweep === null) return null;
  const labelled = ({ points }: CurvePoints, name: string) =>
    points.map((point) => ({ ...point, label: `${name} at ${formatNumber(plain(point.volts), 4)} V` }));
  const points = [...labelled(before, names[0]), ...labelled(after, names[1])];
  const answer = calculate('excitation', { ...sweep, points, addedTurns: [0] });
  if (!answer.ok) return null;
  const { curve, drawn, offCurve = [] } = answer.results;
  const count = before.points.length;
  const x = drawn.filter((_, index) => index % 2 === 1);
  const y = drawn.filter((_, index) => index % 2 === 0);
  const placed = points.map(({ volts, amps, turns }) => {
    const own = plain(turns ?? 1);
    return { x: plain(amps) * own, y: plain(volts) / own };
  });
  /** As the calculation places it: by the induced volts where it lies on the curve, else by those at the terminals. */
  const placeOf = (index: number) => {
    const on = curve.find(({ point }) => point === index);
    return on === undefined ? placed[index] : { x: on.ampereTurns.value, y: on.voltsPerTurn.value };
  };
  const dots = (id: string, label: string, ink: Curve['ink'], from: number, to: number): Curve => {
    const mine = points
      .flatMap((_, index) => (index >= from && index < to ? (placeOf(index) ?? []) : []))
      .sort((one, other) => one.x - other.x);
    const columns = { x: mine.map((each) => each.x), y: mine.map((each) => each.y) };
    return { id, label, unit: 'V/turn', ink, dash: 'solid', form: 'points', ...columns };
  };
  const isApart = offCurve.length > 0 || answer.cautions.some(({ code }) => code === 'no-one-curve');
  const off = [offCurve.filter((index) => index < count).length, offCurve.filter((index) => index >= count).length];
  return {
    verdict: isApart ? 'apart' : 'one',
    title: isApart ? 'Not one curve: something else differs' : 'One curve for both: the turn counts agree',
    rests: `Points: ${counted(off[0] ?? 0, count, names[0])}, ${counted(off[1] ?? 0, points.length - count, names[1])}.`,
    candidates: isApart
      ? answer.cautions.filter(({ code }) => code.startsWith('candidate-') || code === 'no-one-curve')
      : [],
    chart: {
      title: 'Excitation of the core',
      xAxis: { kind: 'quantity', label: 'Ampere-turns', unit: 'A' },
      fromX: 0,
      toX: Math.max(...x, ...placed.map((each) => each.x)) * 1.05,
      curves: [
        { id: 'core', label: 'The core', unit: 'V/turn', ink: 'steel', dash: 'solid', form: 'line', x, y },
        dots('before', names[0], 'ink', 0, count),
        dots('after', names[1], 'copper', count, points.length),
      ],
      bands: [],
      levels: [],
      marks: [],
    },
  };
}
