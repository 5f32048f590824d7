import { allowanceOf, type Allowance } from '../../quantity/between-knots.ts';
import { rectangular, type Estimate } from '../../quantity/estimate.ts';
import { monotoneCurve, type Knot } from '../../quantity/monotone-curve.ts';
import { gather, knotOf, type Dot, type Members } from './knots.ts';

/** How a curve is made from points: which go together into a knot, and what lies between. Decided once. */
export interface Plan {
  readonly members: readonly Members[];
  readonly allowance: Allowance;
  /** Range of the knots, by the logarithm of induced volts per turn. */
  readonly from: number;
  readonly to: number;
}

/** A curve in logarithms. */
export type Curve = (x: number) => number;

/** Core loss goes with about the square of the flux: 1.6 for hysteresis (Steinmetz) to over 2. One point knows no better. */
const lossSlope = 2;
const lossSlopeDoubt = 0.4;

/** The plan for the curve through some points; null where they make fewer than two knots. */
export function planOf(dots: readonly Dot[]): Plan | null {
  const members = gather(dots);
  const knots = members.map((each) => knotOf(each, (index) => dots.find((dot) => dot.index === index)));
  const [first, last] = [knots[0], knots.at(-1)];
  if (first === undefined || last === undefined || knots.length < 2) return null;
  return { members, allowance: allowanceOf(monotoneCurve(knots)), from: first.x, to: last.x };
}

/** The plan for the watts of the core: with a single knot, a power law through it. */
export function lossPlanOf(dots: readonly Dot[]): Plan | null {
  const plan = planOf(dots);
  if (plan !== null || dots.length === 0) return plan;
  const members = [dots.map(({ index }) => ({ index, weight: 1 / dots.length }))];
  const { x } = knotOf(members[0] ?? [], (index) => dots.find((dot) => dot.index === index));
  const allowance: Allowance = {
    places: 2,
    placeOf: (at) => (at < x ? 0 : 1),
    halfWidth: (at) => lossSlopeDoubt * Math.abs(at - x),
  };
  return { members, allowance, from: x, to: x };
}

/** A doubt of −1 to 1 for every place of a plan: what the half width there is multiplied with. */
export const doubtsOf = (plan: Plan | null): readonly Estimate[] =>
  Array.from({ length: plan?.allowance.places ?? 0 }, () => rectangular(0, 1));

/** The curve that a plan makes of points as they lie now, moved by the doubts between them. */
export function curveOf(
  { members, allowance }: Plan,
  at: (index: number) => Knot | undefined,
  doubts: readonly number[],
): Curve {
  const knots = members.map((each) => knotOf(each, at));
  const moved = (x: number) => {
    const doubt = doubts[allowance.placeOf(x)] ?? 0;
    return doubt === 0 ? 0 : doubt * allowance.halfWidth(x);
  };
  const [only] = knots;
  if (only !== undefined && knots.length === 1) return (x) => only.y + lossSlope * (x - only.x) + moved(x);
  const curve = monotoneCurve(knots);
  return (x) => curve.at(x) + moved(x);
}
