import type * as v from 'valibot';
import { exact } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { fitLine } from '../quantity/line-fit.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult, type Refusal } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, list, measured, optional, plainNumber } from './field.ts';

const point = group({
  hertz: measured({ label: 'Frequency', unit: 'Hz', above: 0 }),
  watts: measured({ label: 'Core loss', unit: 'W', above: 0, help: 'Copper loss taken off.' }),
  volts: optional(measured({ label: 'Volts', unit: 'V', above: 0, help: 'Volts over hertz must stay the same.' })),
});

const input = group({
  points: list(point, { label: 'Points at one flux density', atLeast: 2, atMost: 100 }),
  atHertz: optional(plainNumber({ label: 'Frequency to split at as well', unit: 'Hz', above: 0 })),
});
type SplitInput = v.InferOutput<typeof input>;

export interface IronLossSplitResults {
  /** Hysteresis part at each point's frequency, in the order of the points. */
  readonly hysteresis: readonly PhysicalResult[];
  readonly eddy: readonly PhysicalResult[];
  readonly wattsPerHertz: PhysicalResult;
  readonly wattsPerHertzSquared: PhysicalResult;
  readonly hysteresisAtHertz?: PhysicalResult;
  readonly eddyAtHertz?: PhysicalResult;
}

type Loss = readonly { readonly hertz: number; readonly watts: number }[];

/** The straight line of watts per hertz against hertz: it starts at the hysteresis part, and its slope is the eddy part. */
const lineThrough = (points: Loss) => fitLine(points.map(({ hertz, watts }) => ({ x: hertz, y: watts / hertz })));

/** Standard errors of start and slope that the scatter round the line shows; 0 where two points leave none. */
function scatterOf(points: Loss) {
  const { interceptVariance, slopeVariance, residualVariance, dof } = lineThrough(points);
  return {
    intercept: Math.sqrt(interceptVariance * residualVariance),
    slope: Math.sqrt(slopeVariance * residualVariance),
    dof: dof === 0 ? Infinity : dof,
  };
}

/** Volts over hertz of a point against the first; null where one of the two is not given. */
function fluxAgainstFirst({ points }: SplitInput, index: number): number | null {
  const [first, here] = [points[0], points[index]];
  if (first?.volts === undefined || here?.volts === undefined) return null;
  return (here.volts.value / here.hertz.value / first.volts.value) * first.hertz.value;
}

const fluxNoticed = 0.01;
const fluxRefused = 0.05;

function conflictIn(given: SplitInput): Refusal | null {
  const hertz = given.points.map((each) => each.hertz.value);
  const [low, high] = [Math.min(...hertz), Math.max(...hertz)];
  if (high - low < 0.01 * high) {
    return refuse(
      'not-determined',
      'The frequencies are too alike to tell the two parts of the loss apart.',
      'points.1.hertz',
    );
  }
  const off = given.points.findIndex((_, index) => Math.abs((fluxAgainstFirst(given, index) ?? 1) - 1) > fluxRefused);
  if (off === -1) return null;
  return refuse(
    'conflict',
    'Volts over hertz differ from the first point by over 5 %: not one flux density.',
    `points.${off}.volts`,
  );
}

function cautionsOf(
  given: SplitInput,
  { wattsPerHertz, wattsPerHertzSquared }: IronLossSplitResults,
): readonly Caution[] {
  const flux = given.points.map((_, index) => fluxAgainstFirst(given, index));
  return [
    ...(flux.includes(null)
      ? [
          caution(
            'flux-assumed-constant',
            'Taken as one flux density: without volts at each point nobody can check it.',
          ),
        ]
      : []),
    ...(flux.some((each) => Math.abs((each ?? 1) - 1) > fluxNoticed)
      ? [caution('flux-not-constant', 'Volts over hertz differ by over 1 %: the loss goes with about their square.')]
      : []),
    ...(wattsPerHertz.value < 0 || wattsPerHertzSquared.value < 0
      ? [
          caution(
            'negative-part',
            'One part comes out below 0: a reading is wrong, or the points are too near each other.',
          ),
        ]
      : []),
  ];
}

function run(given: SplitInput) {
  const conflict = conflictIn(given);
  if (conflict !== null) return conflict;
  const { points, atHertz } = given;
  const plain = points.map(({ hertz, watts }) => ({ hertz: hertz.value, watts: watts.value }));
  const scatter = scatterOf(plain);
  const tree = { points, scatter: { ...exact(0), u: 1, dof: scatter.dof } };
  const partsAt = (at: (each: Loss) => number, power: (hertz: number) => number, of: 'intercept' | 'slope') =>
    propagate(tree, (each) => power(at(each.points)) * (lineThrough(each.points)[of] + scatter[of] * each.scatter));
  const hysteresis = (at: (each: Loss) => number) =>
    physical(
      'W',
      partsAt(at, (hertz) => hertz, 'intercept'),
    );
  const eddy = (at: (each: Loss) => number) =>
    physical(
      'W',
      partsAt(at, (hertz) => hertz ** 2, 'slope'),
    );
  const one = () => 1;
  const results: IronLossSplitResults = {
    hysteresis: points.map((_, index) => hysteresis((each) => each[index]?.hertz ?? 0)),
    eddy: points.map((_, index) => eddy((each) => each[index]?.hertz ?? 0)),
    wattsPerHertz: physical('W/Hz', partsAt(one, one, 'intercept')),
    wattsPerHertzSquared: physical('W/Hz²', partsAt(one, one, 'slope')),
    ...(atHertz === undefined
      ? {}
      : { hysteresisAtHertz: hysteresis(() => atHertz), eddyAtHertz: eddy(() => atHertz) }),
  };
  const n = (value: number) => formatNumber(value, 6);
  const { intercept: start, slope } = lineThrough(plain);
  const working = [
    ...plain.map(({ hertz, watts }) => line('P / f', 'P / f', `${n(watts)} / ${n(hertz)}`, watts / hertz, 'W/Hz')),
    line('B', 'slope of P / f over f', 'least squares', slope, 'W/Hz²'),
    line('A', 'P / f at f = 0', 'least squares', start, 'W/Hz'),
    ...plain.flatMap(({ hertz }) => [
      line('Ph', 'A f', `${n(start)} × ${n(hertz)}`, start * hertz, 'W'),
      line('Pe', 'B f²', `${n(slope)} × ${n(hertz)}²`, slope * hertz ** 2, 'W'),
    ]),
  ];
  return worked(results, working, cautionsOf(given, results));
}

export const ironLossSplit = defineCalculation({
  name: 'iron-loss-split',
  title: 'Core loss in its hysteresis and eddy parts',
  version: 1,
  sources: ['P = A f + B f² at one flux density: Theraja, A Textbook of Electrical Technology, ex. 32.31'],
  input,
  example: {
    points: [
      { hertz: 60, watts: { value: 62, u: 0.8 }, volts: 120 },
      { hertz: 50, watts: { value: 47.5, u: 0.8 }, volts: 100 },
      { hertz: 40, watts: { value: 34.6, u: 0.8 }, volts: 80 },
    ],
    atHertz: 50,
  },
  run,
});
