import type { Propagated } from '../quantity/combine.ts';

/** Why a calculation refused. Added to, never renamed. */
export type RefusalCode =
  | 'no-input'
  | 'bad-json'
  | 'unknown-calculation'
  | 'unknown-key'
  | 'missing-key'
  | 'wrong-type'
  | 'not-finite'
  | 'negative'
  | 'zero'
  | 'too-small'
  | 'too-large'
  | 'not-whole'
  | 'not-a-choice'
  | 'too-few'
  | 'too-many'
  /** Values that are each possible, but not together. */
  | 'conflict'
  /** The readings cannot determine what is asked: too alike, or the fit does not settle. */
  | 'not-determined'
  /** The formula does not hold for these values. */
  | 'outside-validity'
  /** The numbers went beyond what a number can hold. */
  | 'result-not-finite';

/** A refusal is an answer: nothing was computed, and this is why. `path` names the input, '' the input as a whole. */
export interface Refusal {
  readonly ok: false;
  readonly error: { readonly code: RefusalCode; readonly message: string; readonly path: string };
}

/** What one input gives to the uncertainty of a result. */
export interface BudgetLine {
  /** The input's path, or `shared:` and the id of a shared part. */
  readonly input: string;
  /** Sensitivity times standard uncertainty, in the result's unit, with its sign. */
  readonly u: number;
  /** Its share of the variance, 0 to 1. */
  readonly share: number;
  /** Left out: normal. */
  readonly shape?: 'rectangular' | 'triangular';
}

/** A derived quantity. `dof` null means infinite (JSON has no infinity); `u` null means that it cannot be known. */
export interface PhysicalResult {
  readonly value: number;
  readonly u: number | null;
  readonly unit: string;
  readonly dof: number | null;
  readonly interval95: readonly [number, number] | null;
  /** Each input's share of the variance, largest first; only where there is any. */
  readonly budget?: readonly BudgetLine[];
  /** u is only a rough figure: the formula bends within the inputs' doubt. */
  readonly rough?: true;
  /** The 95 % interval that drawing the errors gives, where it differs visibly from `interval95`. */
  readonly drawn?: { readonly interval95: readonly [number, number]; readonly draws: number };
}

/** What a calculation may put into its results. */
export type ResultValue =
  number | string | boolean | null | PhysicalResult | readonly ResultValue[] | { readonly [key: string]: ResultValue };

export interface WorkingLine {
  readonly symbol: string;
  /** The formula in symbols. */
  readonly formula: string;
  /** The same with the numbers put in. */
  readonly numbers: string;
  readonly value: number;
  readonly unit: string;
}

/** Something the person should know before using a result. `code` is stable, `text` is for reading. */
export interface Caution {
  readonly code: string;
  readonly text: string;
}

/** What the formula of a calculation hands back. */
export interface Worked<R> {
  readonly ok: true;
  readonly results: R;
  readonly working: readonly WorkingLine[];
  readonly cautions: readonly Caution[];
}

/** A complete answer, as the headless command prints it. */
export type Answer<R = Readonly<Record<string, ResultValue>>> =
  (Worked<R> & { readonly name: string; readonly version: number; readonly sources: readonly string[] }) | Refusal;

export const refuse = (code: RefusalCode, message: string, path = ''): Refusal => ({
  ok: false,
  error: { code, message, path },
});

export const worked = <R>(
  results: R,
  working: readonly WorkingLine[],
  cautions: readonly Caution[] = [],
): Worked<R> => ({ ok: true, results, working, cautions });

export const line = (symbol: string, formula: string, numbers: string, value: number, unit: string): WorkingLine => ({
  symbol,
  formula,
  numbers,
  value,
  unit,
});

export const caution = (code: string, text: string): Caution => ({ code, text });

/** A propagated value as a result with its unit. */
export function physical(unit: string, { value, u, dof, k, budget, rough, drawn }: Propagated): PhysicalResult {
  const common = { value, u, unit, dof: u === null || !Number.isFinite(dof) ? null : dof };
  const opinion = drawn === undefined ? {} : { drawn };
  if (u === null) return { ...common, interval95: null, ...opinion };
  const interval95 = [value - k * u, value + k * u] as const;
  if (u === 0) return { ...common, interval95 };
  const lines = budget.map(({ input, u: part, shape }) => ({
    input,
    u: part,
    share: (part / u) ** 2,
    ...(shape === 'normal' ? {} : { shape }),
  }));
  const largestFirst = lines.sort((a, b) => b.share - a.share);
  return { ...common, interval95, budget: largestFirst, ...(rough ? { rough } : {}), ...opinion };
}

/** A result whose uncertainty cannot be known: the caller adds the caution that says why. */
export const withoutUncertainty = (unit: string, value: number): PhysicalResult => ({
  value,
  u: null,
  unit,
  dof: null,
  interval95: null,
});
