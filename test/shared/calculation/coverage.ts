import type { Estimate } from '../../../src-shared/quantity/estimate.ts';
import { isEstimate } from '../../../src-shared/quantity/estimate.ts';
import { seededGenerator, type Generator } from '../../../src-shared/quantity/generator.ts';
import { drawOwnError, seenVarianceRatio } from '../../../src-shared/quantity/monte-carlo.ts';

/** One bench whose truth is known: what was read there, and the interval that the calculation gave. */
export interface CoverageCase {
  readonly truth: number;
  readonly interval95: readonly [number, number];
}

export interface Coverage {
  readonly benches: number;
  /** Part of the benches whose 95 % interval holds the truth. */
  readonly share: number;
  /** Truths below the interval, and above it. */
  readonly below: number;
  readonly above: number;
}

/** How often the 95 % interval holds the truth over many benches, drawn one after the other from one seed. */
export function coverageOver(seed: number, benches: number, bench: (generator: Generator) => CoverageCase): Coverage {
  const generator = seededGenerator(seed);
  let [below, above] = [0, 0];
  for (let drawn = 0; drawn < benches; drawn += 1) {
    const { truth, interval95 } = bench(generator);
    if (!(truth >= interval95[0])) below += 1;
    else if (!(truth <= interval95[1])) above += 1;
  }
  return { benches, share: 1 - (below + above) / benches, below, above };
}

/** A tree of estimates as a bench reads it: the same places, ready for a calculation. */
type Observed<T> = T extends Estimate ? Estimate : { readonly [Key in keyof T]: Observed<T[Key]> };

/**
 * Draws what a bench would read where the estimates of `truths` hold true values: each with an error exactly as it states,
 * shared parts drawn once per id. With few degrees of freedom the stated u itself is drawn too, as repeats would show it.
 */
export function observe<T>(truths: T, generator: Generator): Observed<T>;
export function observe(truths: unknown, generator: Generator): unknown {
  const common = new Map<string, number>();
  const commonDraw = (id: string) => {
    const draw = common.get(id) ?? generator.normal();
    common.set(id, draw);
    return draw;
  };
  const look = (thing: unknown): unknown => {
    if (isEstimate(thing)) return observed(thing, generator, commonDraw);
    if (Array.isArray(thing)) return thing.map(look);
    if (typeof thing !== 'object' || thing === null) return thing;
    return Object.fromEntries(Object.entries(thing).map(([key, part]) => [key, look(part)]));
  };
  return look(truths);
}

function observed(truth: Estimate, generator: Generator, commonDraw: (id: string) => number): Estimate {
  const { value, u, shape, dof, shared } = truth;
  const own = u === null ? 0 : u * drawOwnError({ shape, dof: Infinity }, generator);
  const together = shared === undefined ? 0 : shared.u * commonDraw(shared.id);
  const seen = u === null ? null : u * Math.sqrt(seenVarianceRatio(dof, generator));
  return { ...truth, value: value + own + together, u: seen };
}

/** A tree of estimates as a file would hold it: JSON has no infinity, and a reading without degrees of freedom is known well. */
export const forJson = (tree: unknown): unknown =>
  JSON.parse(JSON.stringify(tree, (_, value: unknown) => (value === Infinity ? null : value)));
