import { fitLine } from '../../quantity/line-fit.ts';
import { rootBetween } from '../../quantity/root.ts';
import type { Plan } from './curve.ts';
import { voltsAt, workingPoint, type Fed, type Model } from './model.ts';

/** The knee's step: 10 % more volts, 50 % more current (IEC 60050-321:1986, 321-02-34). */
const voltsStep = 1.1;
const currentStep = 1.5;
/** Steps over the range of the curve in which crossings are looked for. */
const looks = 200;
/** Over so much to each side, in logarithms, the curve's steepening is taken: about the step itself, which no reading's error fills. */
const around = Math.log(voltsStep);

/** By how much the current grows beyond half as much again when its volts grow by a tenth from `x` on. */
function beyondStep(model: Model, fed: Fed, x: number): number {
  const next = workingPoint(model, fed, voltsStep * voltsAt(model, fed, x)).x;
  return model.ampereTurns(next) - model.ampereTurns(x) - Math.log(currentStep);
}

/** Where the step is, and what may be wrong about it beyond the readings. */
export interface KneePlace {
  readonly kind: 'at';
  /** Logarithm of volts per turn. */
  readonly x: number;
  /** How fast the current's step grows with `x` there, by and large. */
  readonly steepening: number;
  /** Half width of what the curve may be off between the two ends of the step, in logarithms of current. */
  readonly stepDoubt: number;
  /** Half of the way between the first and the last crossing, where errors of the readings make several. */
  readonly crossingDoubt: number;
}

export type Knee =
  | KneePlace
  /** The step is never seen within the points, or already at the lowest. */
  | { readonly kind: 'above' | 'below' };

/**
 * Where the curve takes the step, within the points. Errors may make a curve take it several times: then the crossing that
 * has the fewest places on its wrong side.
 */
export function findKnee(model: Model, fed: Fed, { from, to, allowance }: Plan): Knee {
  const upper = (x: number) => workingPoint(model, fed, voltsStep * voltsAt(model, fed, x)).x;
  const places = Array.from({ length: looks + 1 }, (_, k) => from + ((to - from) * k) / looks);
  const seen = places.filter((x) => upper(x) <= to).map((x) => ({ x, beyond: beyondStep(model, fed, x) }));
  const crossings = seen.flatMap(({ x, beyond }, k) => {
    const before = seen[k - 1];
    if (before === undefined || !(before.beyond < 0 && beyond >= 0)) return [];
    const wrong = seen.filter((each, j) => (j < k ? each.beyond >= 0 : each.beyond < 0)).length;
    return [{ from: before.x, to: x, wrong }];
  });
  const [first, last] = [crossings[0], crossings.at(-1)];
  if (first === undefined || last === undefined) return { kind: (seen[0]?.beyond ?? -1) >= 0 ? 'below' : 'above' };
  const best = crossings.reduce((a, b) => (b.wrong < a.wrong ? b : a));
  const x = rootBetween((at) => beyondStep(model, fed, at), best.from, best.to) ?? best.to;
  // Ends in one interval share its doubt, which would cancel between them; the true curve may well be bent otherwise.
  const isOne = allowance.placeOf(x) === allowance.placeOf(upper(x));
  const stepDoubt = isOne ? Math.max(allowance.halfWidth(x), allowance.halfWidth(upper(x))) : 0;
  const near = seen.filter((each) => Math.abs(each.x - x) <= around);
  const wide = fitLine(near.map((each) => ({ x: each.x, y: each.beyond }))).slope;
  const local = (beyondStep(model, fed, best.to) - beyondStep(model, fed, best.from)) / (best.to - best.from);
  const steepening = wide > 0 ? wide : local;
  return { kind: 'at', x, steepening, stepDoubt, crossingDoubt: (last.to - first.to) / 2 };
}

/** The doubts of −1 to 1 that a knee's half widths are multiplied with. */
export interface KneeDoubts {
  readonly kneeStep: number;
  readonly kneeCrossing: number;
}

/**
 * Volts at the terminals at a knee that was found. How far it moves when the curve does is told by the steepening in its
 * surroundings: right at a crossing a curve through erring points is steeper than the true one, which would make the knee
 * look more certain than it is.
 */
export function kneeVolts(model: Model, fed: Fed, knee: KneePlace, { kneeStep, kneeCrossing }: KneeDoubts): number {
  const beyond = beyondStep(model, fed, knee.x) + kneeStep * knee.stepDoubt;
  return voltsAt(model, fed, knee.x - beyond / knee.steepening + kneeCrossing * knee.crossingDoubt);
}
