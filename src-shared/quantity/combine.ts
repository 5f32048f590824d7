import { coverageFactor, effectiveDegreesOfFreedom, type Part } from './coverage.ts';
import type { Drawn } from './second-opinion.ts';

/** What one input, or the part that several inputs share, gives to the uncertainty of a result. */
export interface NamedPart extends Part {
  /** The input's path, or `shared:` and the id of the shared part. */
  readonly input: string;
}

/** A derived value with everything that first-order propagation tells about it. */
export interface Propagated {
  readonly value: number;
  /** Combined standard uncertainty; null when that of an input that matters is not known, or the first order cannot tell. */
  readonly u: number | null;
  /** Effective degrees of freedom, not truncated. */
  readonly dof: number;
  /** Half width of the 95 % interval over u. */
  readonly k: number;
  /** The independent parts of u; it is the root of the sum of their squares. */
  readonly budget: readonly NamedPart[];
  /** The formula bends so much within the inputs' doubt that u is only a rough figure. */
  readonly rough: boolean;
  /** What drawing the errors gives, where that differs visibly from value ± k u. */
  readonly drawn?: Drawn;
}

/** A value and the independent parts of its uncertainty, put together (JCGM 100:2008, 5.1.2 and G.4.1). */
export function combined(
  value: number,
  budget: readonly NamedPart[],
  { isUnknown = false, rough = false }: { readonly isUnknown?: boolean; readonly rough?: boolean } = {},
): Propagated {
  const u = Math.hypot(...budget.map((part) => part.u));
  const dof = effectiveDegreesOfFreedom(budget);
  const isKnown = !isUnknown && Number.isFinite(u);
  return { value, u: isKnown ? u : null, dof, k: isKnown && u > 0 ? coverageFactor(budget, dof) : 0, budget, rough };
}

/**
 * A sum of derived values with factors, such as a difference or a mean. Parts of the same input belong together, so what
 * the values have in common adds up with its sign before it is squared.
 */
export function linearCombination(terms: readonly { readonly factor: number; readonly of: Propagated }[]): Propagated {
  const parts = new Map<string, NamedPart & { readonly largest: number }>();
  for (const { factor, of } of terms) {
    for (const part of of.budget) {
      const before = parts.get(part.input);
      const u = factor * part.u;
      parts.set(part.input, {
        ...part,
        u: u + (before?.u ?? 0),
        largest: Math.max(Math.abs(u), before?.largest ?? 0),
      });
    }
  }
  return combined(
    terms.reduce((sum, { factor, of }) => sum + factor * of.value, 0),
    [...parts.values()].map(({ largest, ...part }) => ({ ...part, u: cleared(part.u, largest) })),
    { isUnknown: terms.some(({ of }) => of.u === null), rough: terms.some(({ of }) => of.rough) },
  );
}

/** What is left of parts that cancel is rounding. */
export const cleared = (sum: number, largest: number): number => (Math.abs(sum) < 1e-9 * largest ? 0 : sum);
