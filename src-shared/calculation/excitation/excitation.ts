import { exact, type Estimate } from '../../quantity/estimate.ts';
import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import { takeApart } from '../../quantity/sources.ts';
import { caution, physical, refuse, worked } from '../answer.ts';
import type { Caution, PhysicalResult } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { benchOf } from './bench.ts';
import { candidateCautions } from './candidates.ts';
import { cautionsOf } from './cautions.ts';
import { hertzOf, impossible, pointsOfState } from './conditions.ts';
import { lossPlanOf, planOf } from './curve.ts';
import { curvePoints, drawnCurve, type CurvePoint } from './curve-points.ts';
import { excitationExample } from './example.ts';
import { fewestAddedTurns } from './fewest.ts';
import { excitationInput, type ExcitationInput } from './input.ts';
import { findKnee, type Knee } from './knee.ts';
import { modelOf, primaryWith, treeOf, workingPoint, type Model, type Plans } from './model.ts';
import { judgeCurve, type Verdict } from './off-curve.ts';
import { askFor, isBeyond, predict, reach, type Prediction } from './predict.ts';
import { lossDots, suspectsOf } from './suspects.ts';
import { workingOf } from './working.ts';

export interface ExcitationResults {
  /** The points that the curve goes through, lowest first. */
  readonly curve: readonly CurvePoint[];
  /** The curve between them, for drawing: the two in turn, volts per turn and ampere-turns. */
  readonly drawn: readonly number[];
  /** Supply volts at `primaryTurns` where 10 % more volts draw 50 % more current; only where the points show it. */
  readonly knee?: PhysicalResult;
  readonly predictions: readonly Prediction[];
  /** Only with limits; null where no number of turns keeps them all. */
  readonly fewestAddedTurns?: number | null;
  /** Indices of points that do not fall on the curve of the others; only where there are any. */
  readonly offCurve?: readonly number[];
  readonly hertz?: PhysicalResult;
}

const n = (value: number) => formatNumber(value, 6);

/** What the points scatter by, seen in as many degrees of freedom as they have beyond a straight line. */
const scatterOf = ({ scatter, on }: Verdict): Estimate => ({
  ...exact(0),
  u: scatter,
  dof: Math.max(1, on.length - 2),
});

function kneeCautions(knee: Knee): readonly Caution[] {
  if (knee.kind === 'at') return [];
  const where =
    knee.kind === 'above'
      ? 'lies above these points, or is not seen between them: take some at higher volts per turn'
      : 'lies below these points: take some at lower volts per turn';
  return [caution('knee-not-seen', `The knee, where 10 % more volts draw 50 % more current, ${where}.`)];
}

function fewestCautions(fewest: number | null, model: Model, { current }: Plans): readonly Caution[] {
  if (fewest === null) {
    return [caution('limits-not-kept', 'No number of added turns that was looked at keeps every limit.')];
  }
  const { x } = workingPoint(model, primaryWith(model.values, fewest), model.values.supplyVolts);
  return [
    ...(isBeyond(x, current)
      ? [
          caution(
            'fewest-extrapolated',
            `${fewest} added turns lie beyond the points: take points there before winding.`,
          ),
        ]
      : []),
    caution('limits-by-value', 'The limits are kept by the values; their uncertainty stands beside each prediction.'),
  ];
}

function run(given: ExcitationInput) {
  const known = hertzOf(given);
  if ('ok' in known) return known;
  const bench = benchOf(given, known.hertz);
  const refused = impossible(given, bench);
  if (refused !== null) return refused;
  const state = pointsOfState(given);
  if ('ok' in state) return state;
  const suspects = suspectsOf(given, bench, state.indices);
  const verdict = judgeCurve(suspects);
  const on = verdict.on.map(({ index }) => index);
  const current = planOf(verdict.on);
  if (current === null) {
    return refuse(
      'not-determined',
      'The points lie too close together to make a curve: take some at other volts.',
      'points',
    );
  }
  const plans: Plans = { current, loss: lossPlanOf(lossDots(given, bench, on)) };
  const tree = treeOf(bench, plans, scatterOf(verdict));
  const { values } = takeApart(tree);
  const model = modelOf(values, plans);
  const asks = given.addedTurns.map((added) => askFor(values, plans, added));
  const far = asks.findIndex(({ x }) => !(x <= current.to + reach));
  if (far !== -1) {
    return refuse(
      'outside-validity',
      `This needs ${n(Math.exp(asks[far]?.x ?? 0))} V per turn, and the points end at ${n(Math.exp(current.to))}: nobody can tell how far the iron is saturated there.`,
      `addedTurns.${far}`,
    );
  }
  const knee = findKnee(model, primaryWith(values, 0), current);
  const predicted = predict(tree, plans, asks, knee.kind === 'at' ? knee : null);
  const silly = predicted.predictions.findIndex(
    ({ amps, voltsPerTurn }) => !(amps.value > 0 && voltsPerTurn.value > 0),
  );
  if (silly !== -1) {
    return refuse(
      'outside-validity',
      'So far from the points there is no current left to tell.',
      `addedTurns.${silly}`,
    );
  }
  const fewest = given.limits === undefined ? undefined : fewestAddedTurns(values, plans, given.limits);
  const curve = curvePoints(bench, on);
  const off = verdict.off.map(({ suspect }) => suspect.index).sort((a, b) => a - b);
  const results: ExcitationResults = {
    curve,
    drawn: drawnCurve(model, plans),
    ...(predicted.knee === null ? {} : { knee: physical('V', predicted.knee) }),
    predictions: predicted.predictions,
    ...(fewest === undefined ? {} : { fewestAddedTurns: fewest }),
    ...(off.length === 0 ? {} : { offCurve: off }),
    ...(known.hertz === undefined
      ? {}
      : {
          hertz: physical(
            'Hz',
            propagate({ hertz: known.hertz }, (each) => each.hertz),
          ),
        }),
  };
  const working = workingOf(bench, curve.at(-1)?.point ?? 0, predicted.predictions, predicted.knee?.value ?? null);
  return worked(results, working, [
    ...candidateCautions(given, bench, verdict),
    ...cautionsOf(given, bench, state.indices, plans, predicted.predictions),
    ...kneeCautions(knee),
    ...(fewest === undefined ? [] : fewestCautions(fewest, model, plans)),
  ]);
}

export const excitation = defineCalculation({
  name: 'excitation',
  title: 'No-load curve, and what more primary turns would do',
  version: 1,
  sources: [
    'One curve of volts per turn against ampere-turns: Faraday’s and Ampère’s laws; any machines text',
    'Curve between points: Fritsch and Carlson, SIAM Journal on Numerical Analysis 17 (1980) 238',
    'Knee by the step of +10 % volts and +50 % current: IEC 60050-321:1986, 321-02-34',
    'What a soft supply and a distorted wave do: own simulation in time',
    'Other meters, flux ceilings, power factor where none was read: common practice, no source',
  ],
  input: excitationInput,
  example: excitationExample,
  run,
});
