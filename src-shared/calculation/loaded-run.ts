import type * as v from 'valibot';
import { exact } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { fitLine } from '../quantity/line-fit.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, list, measured, optional, plainNumber } from './field.ts';

const input = group({
  points: list(
    group({
      amps: measured({ label: 'Load current', unit: 'A', atLeast: 0 }),
      volts: measured({ label: 'Output volts', unit: 'V', above: 0 }),
      primaryVolts: optional(measured({ label: 'Primary volts at that moment', unit: 'V', above: 0 })),
      watts: optional(measured({ label: 'Input power', unit: 'W', above: 0 })),
    }),
    { label: 'Points', atLeast: 2, atMost: 100 },
  ),
  referenceVolts: optional(
    plainNumber({
      label: 'Primary volts to refer to',
      unit: 'V',
      above: 0,
      help: 'Takes the sag of house wiring out.',
    }),
  ),
  atAmps: optional(plainNumber({ label: 'Current to state the regulation at', unit: 'A', above: 0 })),
  hertz: optional(measured({ label: 'Frequency', unit: 'Hz', above: 0 })),
});
type LoadedInput = v.InferOutput<typeof input>;
type Point = Values<LoadedInput>['points'][number];

export interface LoadedRunResults {
  readonly openCircuitVolts: PhysicalResult;
  readonly outputResistance: PhysicalResult;
  /** On the no-load volts, at the current asked for, or the largest of the points. */
  readonly regulationPercent: PhysicalResult;
  readonly atAmps: number;
  /** Volts off the line, point by point. */
  readonly residuals: readonly number[];
  /** Output over input, point by point at a resistive load; null where no input power was read. */
  readonly efficiencyPercent: readonly (PhysicalResult | null)[];
  readonly hertz?: PhysicalResult;
}

const voltsAt = ({ volts, primaryVolts }: Point, reference: number | undefined) =>
  reference === undefined || primaryVolts === undefined ? volts : (volts * reference) / primaryVolts;

const lineOf = (points: readonly Point[], reference: number | undefined) =>
  fitLine(points.map((point) => ({ x: point.amps, y: voltsAt(point, reference) })));

/** What the scatter round the line gives: standard errors of the start, of the slope, and of the regulation. */
function scatterOf(points: readonly Point[], reference: number | undefined, atAmps: number) {
  const { intercept, slope, interceptVariance, slopeVariance, covariance, residualVariance, dof } = lineOf(
    points,
    reference,
  );
  // regulation = −slope × I / intercept
  const [bySlope, byStart] = [(-100 * atAmps) / intercept, (100 * slope * atAmps) / intercept ** 2];
  const regulation =
    bySlope ** 2 * slopeVariance + byStart ** 2 * interceptVariance + 2 * bySlope * byStart * covariance;
  const s = Math.sqrt(residualVariance);
  return {
    start: s * Math.sqrt(interceptVariance),
    slope: s * Math.sqrt(slopeVariance),
    regulation: s * Math.sqrt(Math.max(0, regulation)),
    dof: dof === 0 ? Infinity : dof,
  };
}

function cautionsOf({ points, referenceVolts, hertz }: LoadedInput, resistance: number): readonly Caution[] {
  const sagIsIn = referenceVolts === undefined || points.some(({ primaryVolts }) => primaryVolts === undefined);
  return [
    ...(sagIsIn
      ? [
          caution(
            'house-sag',
            'Without primary volts at every point and a reference, the sag of house wiring and cord counts as the transformer’s own.',
          ),
        ]
      : []),
    ...(points.length === 2
      ? [caution('two-points', 'Two points make a line whatever they are: nothing checks it.')]
      : []),
    ...(resistance < 0
      ? [caution('rises', 'The volts rise with the load: a leading load, or a reading is wrong.')]
      : []),
    ...(points.some(({ watts }) => watts !== undefined)
      ? [caution('resistive-load', 'Efficiency takes volts × amps as the output: for a resistive load only.')]
      : []),
    ...(hertz === undefined
      ? [caution('hertz-not-given', 'Without the frequency this is not to be compared with another run.')]
      : []),
    caution('warms', 'The winding warms during the run: the resistance is that of the temperatures it had.'),
  ];
}

function run(given: LoadedInput) {
  const { points, referenceVolts, hertz } = given;
  const amps = points.map((point) => point.amps.value);
  const most = Math.max(...amps);
  const spread = most - Math.min(...amps);
  if (!(spread > 1e-3 * most)) {
    return refuse('not-determined', 'The currents are too alike to lay a line through the points.', 'points.1.amps');
  }
  const mixed = points.findIndex(
    ({ primaryVolts }) => (primaryVolts === undefined) !== (points[0]?.primaryVolts === undefined),
  );
  if (mixed !== -1 && referenceVolts !== undefined) {
    return refuse('missing-key', 'Give the primary volts at every point, or at none.', `points.${mixed}.primaryVolts`);
  }
  const atAmps = given.atAmps ?? most;
  const plain = points.map(({ amps: i, volts, primaryVolts }) => ({
    amps: i.value,
    volts: volts.value,
    ...(primaryVolts === undefined ? {} : { primaryVolts: primaryVolts.value }),
  }));
  const middle = lineOf(plain, referenceVolts);
  if (!(middle.intercept > 0)) {
    return refuse('outside-validity', 'The line through the points has no volts at no load.', 'points.0.volts');
  }
  const scatter = scatterOf(plain, referenceVolts, atAmps);
  const tree = { points, scatter: { ...exact(0), u: 1, dof: scatter.dof } };
  const open = propagate(tree, (each) => lineOf(each.points, referenceVolts).intercept + scatter.start * each.scatter);
  const ohms = propagate(tree, (each) => scatter.slope * each.scatter - lineOf(each.points, referenceVolts).slope);
  const regulation = propagate(tree, (each) => {
    const { intercept, slope } = lineOf(each.points, referenceVolts);
    return (-100 * slope * atAmps) / intercept + scatter.regulation * each.scatter;
  });
  const results: LoadedRunResults = {
    openCircuitVolts: physical('V', open),
    outputResistance: physical('Ω', ohms),
    regulationPercent: physical('%', regulation),
    atAmps,
    residuals: plain.map((point) => voltsAt(point, referenceVolts) - middle.intercept - middle.slope * point.amps),
    efficiencyPercent: points.map(({ amps: i, volts, watts }) =>
      watts === undefined
        ? null
        : physical(
            '%',
            propagate({ i, volts, watts }, (each) => (100 * each.volts * each.i) / each.watts),
          ),
    ),
    ...(hertz === undefined
      ? {}
      : {
          hertz: physical(
            'Hz',
            propagate({ hertz }, (each) => each.hertz),
          ),
        }),
  };
  const n = (value: number) => formatNumber(value, 6);
  return worked(
    results,
    [
      line('U0', 'U = U0 − R I', `least squares, ${points.length} points`, open.value, 'V'),
      line('R', 'U = U0 − R I', `least squares, ${points.length} points`, ohms.value, 'Ω'),
      line('reg', 'R I / U0', `${n(ohms.value)} × ${n(atAmps)} / ${n(open.value)} × 100`, regulation.value, '%'),
    ],
    cautionsOf(given, ohms.value),
  );
}

export const loadedRun = defineCalculation({
  name: 'loaded-run',
  title: 'What the output does under load',
  version: 1,
  sources: [
    'Straight line by least squares: Montgomery, Peck and Vining, Introduction to Linear Regression Analysis, ch. 2',
  ],
  input,
  example: {
    points: [
      { amps: 0, volts: { value: 24.9, u: 0.02 }, primaryVolts: 120.4 },
      { amps: { value: 10, u: 0.05 }, volts: { value: 24.3, u: 0.02 }, primaryVolts: 119.8 },
      { amps: { value: 20, u: 0.1 }, volts: { value: 23.7, u: 0.02 }, primaryVolts: 119.1, watts: 540 },
      { amps: { value: 30, u: 0.15 }, volts: { value: 23.1, u: 0.02 }, primaryVolts: 118.5, watts: 790 },
    ],
    referenceVolts: 120,
    atAmps: 30,
    hertz: 60,
  },
  run,
});
