import { physical, type PhysicalResult } from '../answer.ts';
import { propagateEach } from '../../quantity/propagate.ts';
import type { Propagated } from '../../quantity/combine.ts';
import { rectangular } from '../../quantity/estimate.ts';
import type { Plan } from './curve.ts';
import { kneeVolts, type KneePlace } from './knee.ts';
import { modelOf, primaryWith, workingPoint } from './model.ts';
import type { Fed, Model, Plans, Tree, TreeValues, WorkingPoint } from './model.ts';

/** What so many more turns would do. */
export interface Prediction {
  readonly addedTurns: number;
  readonly amps: PhysicalResult;
  /** Total input: the core's, and the copper's at the resistance of these turns. Only where watts were read. */
  readonly watts?: PhysicalResult;
  /** Peak flux density; only with frequency and iron area. */
  readonly tesla?: PhysicalResult;
  /** Induced in every turn. */
  readonly voltsPerTurn: PhysicalResult;
  /** What every secondary's volts are multiplied with, against no turns added. */
  readonly secondaryVoltsFactor: PhysicalResult;
  /** The answer lies beyond the points. */
  readonly extrapolated: boolean;
  /** What it would draw if these turns were wound the wrong way round; left out where the curve does not reach so far. */
  readonly ampsIfOpposing?: PhysicalResult;
}

/** A hair: a prediction at a measured point is none beyond it. */
const hair = 1e-6;
/** How far past the highest point the curve is followed, in logarithms. */
export const reach = Math.log(1.5);

/** Added turns the wrong way round: the flux sees so many fewer, and the current meets the resistance of all. */
const opposing = (values: TreeValues, added: number): Fed => ({
  turns: values.primaryTurns - added,
  ohms: primaryWith(values, added).ohms,
});

export const isBeyond = (x: number, { from, to }: Pick<Plan, 'from' | 'to'>): boolean =>
  x < from - hair || x > to + hair;

/** What is to be predicted, decided on the readings as they stand. */
export interface Ask {
  readonly addedTurns: number;
  /** Where it works, as a logarithm of volts per turn. */
  readonly x: number;
  readonly isExtrapolated: boolean;
  readonly hasOpposing: boolean;
}

export function askFor(nominal: TreeValues, plans: Plans, addedTurns: number): Ask {
  const model = modelOf(nominal, plans);
  const { primaryTurns, supplyVolts } = nominal;
  const { x } = workingPoint(model, primaryWith(nominal, addedTurns), supplyVolts);
  const isExtrapolated = isBeyond(x, plans.current) || (plans.loss !== null && isBeyond(x, plans.loss));
  const canOppose = addedTurns > 0 && primaryTurns > addedTurns;
  const hasOpposing =
    canOppose && workingPoint(model, opposing(nominal, addedTurns), supplyVolts).x <= plans.current.to + reach;
  return { addedTurns, x, isExtrapolated, hasOpposing };
}

/** Everything about one prediction in a row, as many numbers as its `Ask` says. */
function numbersOf(model: Model, now: WorkingPoint, { addedTurns, hasOpposing }: Ask, has: Has): number[] {
  const { values } = model;
  const at = (fed: Fed) => workingPoint(model, fed, values.supplyVolts);
  const { amps, watts, tesla, voltsPerTurn } = at(primaryWith(values, addedTurns));
  return [
    amps,
    voltsPerTurn,
    voltsPerTurn / now.voltsPerTurn,
    ...(has.watts ? [watts] : []),
    ...(has.tesla ? [tesla] : []),
    ...(hasOpposing ? [at(opposing(values, addedTurns)).amps] : []),
  ];
}

interface Has {
  readonly watts: boolean;
  readonly tesla: boolean;
}

export interface Predicted {
  readonly predictions: readonly Prediction[];
  readonly knee: Propagated | null;
}

/** All predictions, and the volts of the knee where there is one, each with its uncertainty. */
export function predict(tree: Tree, plans: Plans, asks: readonly Ask[], found: KneePlace | null): Predicted {
  const has = { watts: plans.loss !== null, tesla: tree.hertz !== undefined && tree.ironAreaMm2 !== undefined };
  const rows = propagateEach({ ...tree, kneeStep: rectangular(0, 1), kneeCrossing: rectangular(0, 1) }, (values) => {
    const model = modelOf(values, plans);
    const primary = primaryWith(values, 0);
    const now = workingPoint(model, primary, values.supplyVolts);
    return [
      ...(found === null ? [] : [kneeVolts(model, primary, found, values)]),
      ...asks.flatMap((ask) => numbersOf(model, now, ask, has)),
    ];
  });
  const left = [...rows];
  const next = () => {
    const row = left.shift();
    if (row === undefined) throw new Error('Fewer numbers came out than were asked for.');
    return row;
  };
  const step = found === null ? null : next();
  const knee = step !== null && Number.isFinite(step.value) ? step : null;
  const predictions = asks.map(({ addedTurns, isExtrapolated, hasOpposing }): Prediction => {
    const [amps, voltsPerTurn, factor] = [physical('A', next()), physical('V/turn', next()), physical('', next())];
    return {
      addedTurns,
      amps,
      ...(has.watts ? { watts: physical('W', next()) } : {}),
      ...(has.tesla ? { tesla: physical('T', next()) } : {}),
      voltsPerTurn,
      secondaryVoltsFactor: factor,
      extrapolated: isExtrapolated,
      ...(hasOpposing ? { ampsIfOpposing: physical('A', next()) } : {}),
    };
  });
  return { predictions, knee };
}
