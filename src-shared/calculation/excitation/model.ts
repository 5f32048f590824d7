import type { Estimate } from '../../quantity/estimate.ts';
import { rootBetween } from '../../quantity/root.ts';
import type { Values } from '../../quantity/sources.ts';
import { emfConstant } from '../flux-density.ts';
import { ohmsAt, placeOf, type Bench } from './bench.ts';
import { curveOf, doubtsOf, type Curve, type Plan } from './curve.ts';

/** How the curves of a bench are made: of current, and of core loss where watts were read. */
export interface Plans {
  readonly current: Plan;
  readonly loss: Plan | null;
}

/** The bench with the doubts of what lies between its points: what the results are propagated from. */
export const treeOf = (bench: Bench, { current, loss }: Plans, scatter: Estimate) => ({
  ...bench,
  scatter,
  interpolation: doubtsOf(current),
  lossInterpolation: doubtsOf(loss),
});
export type Tree = Bench & {
  /** Of the points round the curve, in logarithms of current: 0, with a doubt where they do not make one curve. */
  readonly scatter: Estimate;
  readonly interpolation: readonly Estimate[];
  readonly lossInterpolation: readonly Estimate[];
};
export type TreeValues = Values<Tree>;

/** The curves as they lie now. */
export interface Model {
  readonly values: TreeValues;
  /** Logarithm of ampere-turns at the logarithm of induced volts per turn. */
  readonly ampereTurns: Curve;
  /** Watts of the core at the logarithm of induced volts per turn. */
  readonly coreWatts: Curve;
}

export function modelOf(values: TreeValues, { current, loss }: Plans): Model {
  const places = values.points.map((point) => placeOf(values, point));
  const throughPoints = curveOf(
    current,
    (index) => {
      const place = places[index];
      return place === undefined ? undefined : { x: place.perTurn, y: place.ampereTurns };
    },
    values.interpolation,
  );
  const ampereTurns: Curve = (x) => throughPoints(x) + values.scatter;
  if (loss === null) {
    // Induced volts times amps are volts per turn times ampere-turns.
    return { values, ampereTurns, coreWatts: (x) => values.unreadPowerFactor * Math.exp(x + ampereTurns(x)) };
  }
  const logWatts = curveOf(
    loss,
    (index) => {
      const place = places[index];
      return place === undefined ? undefined : { x: place.perTurn, y: place.coreWatts ?? NaN };
    },
    values.lossInterpolation,
  );
  return { values, ampereTurns, coreWatts: (x) => Math.exp(logWatts(x)) };
}

/** One working point: so many turns on so many volts. */
export interface WorkingPoint {
  /** Logarithm of induced volts per turn. */
  readonly x: number;
  readonly voltsPerTurn: number;
  readonly amps: number;
  readonly coreWatts: number;
  /** All that goes in: core and copper at the resistance of these turns. */
  readonly watts: number;
  /** NaN without frequency and iron area. */
  readonly tesla: number;
}

/** A winding that is fed: the turns that the flux sees, and all the resistance that the current meets. */
export interface Fed {
  readonly turns: number;
  readonly ohms: number;
}

/** The primary with so many more turns, aiding. */
export function primaryWith(values: TreeValues, added: number): Fed {
  const turns = values.primaryTurns + added;
  return { turns, ohms: ohmsAt(values, turns) };
}

/** Terminal volts and everything else where the core works at `x`: V² = E² + 2 R Pcore + (R I)² for the sine of a stiff supply. */
function pointAt({ values, ampereTurns, coreWatts }: Model, { turns, ohms }: Fed, x: number) {
  const voltsPerTurn = Math.exp(x);
  const amps = Math.exp(ampereTurns(x)) / turns;
  const core = coreWatts(x);
  const { hertz = NaN, ironAreaMm2 = NaN } = values;
  const working: WorkingPoint = {
    x,
    voltsPerTurn,
    amps,
    coreWatts: core,
    watts: core + amps ** 2 * ohms,
    tesla: (1e6 * voltsPerTurn) / (emfConstant * hertz * ironAreaMm2),
  };
  return { working, volts: Math.sqrt((voltsPerTurn * turns) ** 2 + 2 * ohms * core + (amps * ohms) ** 2) };
}

export const voltsAt = (model: Model, fed: Fed, x: number): number => pointAt(model, fed, x).volts;

/** The drop is looked for in steps of a twentieth of the volts, further than any winding takes. */
const step = 0.05;
const mostSteps = 200;

/** Where a winding works on so many volts: they grow with the flux, so there is one place. */
export function workingPoint(model: Model, fed: Fed, volts: number): WorkingPoint {
  const top = Math.log(volts / fed.turns);
  if (fed.ohms === 0) return pointAt(model, fed, top).working;
  const above = (x: number) => Math.log(voltsAt(model, fed, x) / volts);
  let low = top - step;
  for (let k = 0; k < mostSteps && above(low) > 0; k += 1) low -= step;
  return pointAt(model, fed, rootBetween(above, low, top) ?? top).working;
}
