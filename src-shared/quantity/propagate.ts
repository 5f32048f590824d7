import { cleared, combined, type NamedPart, type Propagated } from './combine.ts';
import { standardUncertainty } from './estimate.ts';
import { takeApart, type Source, type Values } from './sources.ts';

/** Steps of the five-point difference: at a thousandth, truncation and rounding are both near 1e-13 of the value. */
const relativeStep = 1e-3;
/** Second-order over first-order size from which a result is called rough. */
const bendAllowed = 0.25;

/**
 * First-order propagation of uncertainty with correlation through shared parts (JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1).
 *
 * `inputs` is any tree whose estimates are the doubtful inputs; `formula` works on the same tree with plain numbers and
 * must be pure. Sensitivities are five-point central differences, so the formula is written once and also gives the
 * budget. The formula must be smooth within about 0.2 % of each input.
 */
export function propagate<T extends object>(inputs: T, formula: (values: Values<T>) => number): Propagated {
  const { values, sources } = takeApart(inputs);
  const evaluate = () => formula(values);
  const value = evaluate();
  const doubtful = sources.filter(({ estimate }) => standardUncertainty(estimate) !== 0);
  const slopes = doubtful.map((source) => ({ source, slope: slopeAlong(source, evaluate, value) }));
  const budget = independentParts(slopes);
  const u = Math.hypot(...budget.map((part) => part.u));
  const bend = Math.hypot(...independentMoves(doubtful).map((moves) => bendAlong(moves, evaluate, value)));
  const isSilent = slopes.some(({ source, slope }) => source.estimate.u === null && slope !== 0);
  return combined(value, budget, {
    // At a stationary point the first order says 0 where there is doubt (JCGM 101:2008, 9.4.2.2): then it is not known.
    isUnknown: isSilent || (u === 0 && bend > 0),
    rough: !(bend <= bendAllowed * u),
  });
}

/** What is left of a difference that should be nothing: rounding, relative to the result. */
const rounding = 1e-11;

/** Change of the result per change of one input. */
function slopeAlong({ estimate, set }: Source, evaluate: () => number, middle: number): number {
  const at = (value: number) => {
    set(value);
    return evaluate();
  };
  const { value } = estimate;
  const scale = value !== 0 ? Math.abs(value) : standardUncertainty(estimate) || 1;
  // The step as the machine can hold it, so that no rounding of the input enters the difference.
  const h = value + relativeStep * scale - value;
  const near = at(value + h) - at(value - h);
  const far = at(value + 2 * h) - at(value - 2 * h);
  set(value);
  const slope = (8 * near - far) / (12 * h);
  return Math.abs(slope * scale) <= rounding * Math.abs(middle) ? 0 : slope;
}

/** Inputs that move together, each by one standard uncertainty. */
type Moves = readonly { readonly source: Source; readonly by: number }[];

/** What the second order adds when some inputs move together by one standard uncertainty. */
function bendAlong(moves: Moves, evaluate: () => number, middle: number): number {
  const at = (sign: number) => {
    for (const { source, by } of moves) source.set(source.estimate.value + sign * by);
    return evaluate();
  };
  const bend = (at(1) + at(-1)) / 2 - middle;
  at(0);
  return Math.abs(bend) <= rounding * Math.abs(middle) ? 0 : bend;
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
