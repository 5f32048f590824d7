import { cleared, combined, type NamedPart, type Propagated } from './combine.ts';
import { standardUncertainty } from './estimate.ts';
import { secondOpinion } from './second-opinion.ts';
import { takeApart, type Source, type Values } from './sources.ts';

/** Steps of the five-point difference: at a thousandth, truncation and rounding are both near 1e-13 of the value. */
const relativeStep = 1e-3;
/** Second-order over first-order size from which a result is called rough. */
const bendAllowed = 0.25;
/** And from which the errors are drawn: below it the ends of the interval move by less than a fifth of u. */
const drawnFrom = 0.05;
/** And against the result itself: a bend that small is never of interest. */
const bendSeen = 1e-5;

/**
 * First-order propagation of uncertainty with correlation through shared parts (JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1).
 *
 * `inputs` is any tree whose estimates are the doubtful inputs; `formula` works on the same tree with plain numbers and
 * must be pure. Sensitivities are five-point central differences, so the formula is written once and also gives the
 * budget. The formula must be smooth within about 0.2 % of each input. Where it bends visibly within the inputs' doubt, the
 * errors are drawn as well: `drawn` is there when that gives another interval, `rough` is gone when it gives the same one,
 * and there when some draws have no result. A `dear` formula, one that looks for a root say, is asked less often.
 */
export function propagate<T extends object>(
  inputs: T,
  formula: (values: Values<T>) => number,
  { dear = false }: { readonly dear?: boolean } = {},
): Propagated {
  const [only] = firstOrder(inputs, (values) => [formula(values)]);
  if (only === undefined) throw new Error('One number went in, none came out.');
  const { first, u, bend, isSilent, doubtful } = only;
  if (isSilent || bend <= drawnFrom * u || !Number.isFinite(first.value)) return first;
  const opinion = secondOpinion(inputs, formula, { value: first.value, u, k: first.k, inputs: doubtful }, dear);
  switch (opinion) {
    case 'not-asked':
      return first;
    case 'agrees':
      return { ...first, rough: false };
    case 'no-result':
      return { ...first, rough: true };
    default:
      return { ...first, drawn: opinion };
  }
}

/**
 * The first order alone for a formula that gives several numbers, always as many: what they have in common is computed
 * once. Nothing is drawn, so a number that bends much is only marked as `rough`.
 */
export const propagateEach = <T extends object>(
  inputs: T,
  formula: (values: Values<T>) => readonly number[],
): readonly Propagated[] => firstOrder(inputs, formula).map(({ first }) => first);

interface FirstOrder {
  readonly first: Propagated;
  readonly u: number;
  /** What the second order would add. */
  readonly bend: number;
  /** The uncertainty of an input that matters is not known. */
  readonly isSilent: boolean;
  /** Number of inputs that have any doubt. */
  readonly doubtful: number;
}

function firstOrder<T extends object>(inputs: T, formula: (values: Values<T>) => readonly number[]): FirstOrder[] {
  const { values, sources } = takeApart(inputs);
  const evaluate = () => formula(values);
  const middles = evaluate();
  const doubtful = sources.filter(({ estimate }) => standardUncertainty(estimate) !== 0);
  const slopes = doubtful.map((source) => slopesAlong(source, evaluate, middles));
  const bends = independentMoves(doubtful).map((moves) => bendsAlong(moves, evaluate, middles));
  return middles.map((value, index) => {
    const steep = doubtful.map((source, row) => ({ source, slope: slopes[row]?.[index] ?? 0 }));
    const budget = independentParts(steep);
    const u = Math.hypot(...budget.map((part) => part.u));
    const bend = Math.hypot(...bends.map((each) => each[index] ?? 0));
    const isSilent = steep.some(({ source, slope }) => source.estimate.u === null && slope !== 0);
    const first = combined(value, budget, {
      // At a stationary point the first order says 0 where there is doubt (JCGM 101:2008, 9.4.2.2): then it is not known.
      isUnknown: isSilent || (u === 0 && bend > 0),
      rough: !(bend <= Math.max(bendAllowed * u, bendSeen * Math.abs(value))),
    });
    return { first, u, bend, isSilent, doubtful: doubtful.length };
  });
}

/** What is left of a difference that should be nothing: rounding, relative to the result. */
const rounding = 1e-11;

/** Change of each result per change of one input. */
function slopesAlong({ estimate, set }: Source, evaluate: () => readonly number[], middles: readonly number[]) {
  const at = (value: number) => {
    set(value);
    return evaluate();
  };
  const { value } = estimate;
  const scale = value !== 0 ? Math.abs(value) : standardUncertainty(estimate) || 1;
  // The step as the machine can hold it, so that no rounding of the input enters the difference.
  const h = value + relativeStep * scale - value;
  const [near, nearBelow] = [at(value + h), at(value - h)];
  const [far, farBelow] = [at(value + 2 * h), at(value - 2 * h)];
  set(value);
  return middles.map((middle, index) => {
    const difference = (above: readonly number[], below: readonly number[]) =>
      (above[index] ?? NaN) - (below[index] ?? NaN);
    const slope = (8 * difference(near, nearBelow) - difference(far, farBelow)) / (12 * h);
    return Math.abs(slope * scale) <= rounding * Math.abs(middle) ? 0 : slope;
  });
}

/** Inputs that move together, each by one standard uncertainty. */
type Moves = readonly { readonly source: Source; readonly by: number }[];

/** What the second order adds to each result when some inputs move together by one standard uncertainty. */
function bendsAlong(moves: Moves, evaluate: () => readonly number[], middles: readonly number[]) {
  const at = (sign: number) => {
    for (const { source, by } of moves) source.set(source.estimate.value + sign * by);
    return evaluate();
  };
  const [above, below] = [at(1), at(-1)];
  for (const { source } of moves) source.set(source.estimate.value);
  return middles.map((middle, index) => {
    const bend = ((above[index] ?? NaN) + (below[index] ?? NaN)) / 2 - middle;
    return Math.abs(bend) <= rounding * Math.abs(middle) ? 0 : bend;
  });
}

/** Own parts move alone; inputs that share a part move together in it. */
function independentMoves(sources: readonly Source[]): Moves[] {
  const own = sources.flatMap((source): Moves[] =>
    source.estimate.u === null || source.estimate.u === 0 ? [] : [[{ source, by: source.estimate.u }]],
  );
  const common = sources.flatMap((source) => {
    const { shared } = source.estimate;
    return shared === undefined || shared.u === 0 ? [] : [{ id: shared.id, source, by: shared.u }];
  });
  return [...own, ...Map.groupBy(common, ({ id }) => id).values()];
}

/** The parts of the result's uncertainty, named: inputs with one shared id add up with their signs before squaring. */
function independentParts(slopes: readonly { readonly source: Source; readonly slope: number }[]) {
  const own: NamedPart[] = [];
  const shared = new Map<string, { sum: number; largest: number }>();
  for (const { source, slope } of slopes) {
    const { u, shape, dof, shared: common } = source.estimate;
    if (u !== null && u > 0 && slope !== 0) own.push({ input: source.path, u: slope * u, shape, dof });
    if (common === undefined || common.u === 0 || slope === 0) continue;
    const line = shared.get(common.id) ?? { sum: 0, largest: 0 };
    const part = slope * common.u;
    shared.set(common.id, { sum: line.sum + part, largest: Math.max(line.largest, Math.abs(part)) });
  }
  const together = [...shared].map(([id, { sum, largest }]): NamedPart => ({
    input: `shared:${id}`,
    u: cleared(sum, largest),
    shape: 'normal',
    dof: Infinity,
  }));
  return [...own, ...together];
}
