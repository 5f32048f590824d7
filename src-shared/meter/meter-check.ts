import * as v from 'valibot';
import type { Correction } from './correction.ts';
import { amount, count, line } from './field.ts';
import type { MeterRange } from './range.ts';
import { meterUnits } from './unit.ts';

const finite = v.pipe(v.number(), v.finite());

/** What a check comes to: the meter agrees with its sheet, does not, or the reference is not good enough to tell. */
const checkVerdicts = ['within', 'outside', 'cannot-tell', 'no-sheet'] as const;
export type CheckVerdict = (typeof checkVerdicts)[number];

/** One comparison of a meter with something known, as it was kept. */
const MeterCheck = v.strictObject({
  wallMs: amount('Time of the check', 0, 1e14),
  who: v.string(),
  unit: v.picklist(meterUnits),
  rangeIndex: v.nullable(v.number()),
  /** What the meter showed, before any correction, and one step of its last digit. */
  shown: finite,
  resolution: finite,
  reference: v.strictObject({
    label: line('What it was checked against', 120),
    value: finite,
    /** Standard uncertainty; null when nobody can say. */
    u: v.nullable(v.pipe(finite, v.minValue(0))),
  }),
  verdict: v.picklist(checkVerdicts),
});
export type MeterCheck = v.InferOutput<typeof MeterCheck>;

const mostKept = 40;

/** The last checks of a meter, oldest first; earlier ones are in earlier descriptions. */
export const MeterChecks = v.pipe(
  v.array(MeterCheck, 'Checks must be a list.'),
  v.maxLength(mostKept, `Checks: at most ${mostKept}.`),
);

/** The checks with one more; the oldest goes when there would be too many. */
export const withCheck = (before: readonly MeterCheck[], check: MeterCheck): MeterCheck[] =>
  [...before, check].slice(-mostKept);

/** What the meter is compared with: a source that is known, or what another meter says of the same thing. */
export const CheckReference = v.variant('kind', [
  v.strictObject({
    kind: v.literal('source'),
    label: line('Known source', 120),
    value: amount('Value of the source', -1e9, 1e9),
    /** Plus or minus so much, as its sheet says; null when nobody can say. */
    giveOrTake: v.nullable(amount('Give or take', 0, 1e9)),
  }),
  v.strictObject({ kind: v.literal('meter'), meterId: count('Meter', 1, Number.MAX_SAFE_INTEGER) }),
]);
export type CheckReference = v.InferOutput<typeof CheckReference>;

interface Compared {
  readonly shown: number;
  readonly resolution: number;
  readonly reference: { readonly value: number; readonly u: number | null };
}

/**
 * Whether a reading agrees with its range's statement, given a reference that is itself in doubt: the difference is held
 * against the limit with twice the reference's standard uncertainty on the careful side of either answer (guard bands,
 * JCGM 106:2012, clause 8.3; the clause number is from memory). `limit` is plus or minus (p % of reading + digits).
 */
export function verdictOf({ shown, reference }: Compared, range: MeterRange | null): CheckVerdict {
  if (range === null) return 'no-sheet';
  if (reference.u === null) return 'cannot-tell';
  const limit = (range.percentOfReading / 100) * Math.abs(shown) + range.digits * range.resolution;
  const difference = Math.abs(shown - reference.value);
  const guardBand = 2 * reference.u;
  if (difference + guardBand <= limit) return 'within';
  return difference - guardBand > limit ? 'outside' : 'cannot-tell';
}

/** Below this share of the range its offset and steps are most of what is seen: no factor can be told there. */
const leastShare = 0.2;

/** Why a check gives no correction. */
export const noCorrectionReasons = {
  'no-range': 'The range that it was read on is not described.',
  'no-doubt': 'Nobody can say how good the reference is.',
  'low-on-range': 'It was read low on its range, where a factor cannot be told. Check it above a fifth of the range.',
  'too-far': 'It is off by more than a fifth: that is a fault or another range, and nothing to correct.',
} as const satisfies Record<string, string>;
export type NoCorrection = keyof typeof noCorrectionReasons;

/**
 * The correction that a check amounts to: reference over reading, with the doubt of the reference and of the reading's own
 * step in quadrature (JCGM 100:2008, 5.1.6: relative uncertainties of a quotient).
 */
export function correctionOf(
  check: Pick<MeterCheck, 'shown' | 'resolution' | 'reference' | 'rangeIndex' | 'wallMs'>,
  range: MeterRange | null,
): { readonly ok: true; readonly correction: Correction } | { readonly ok: false; readonly why: NoCorrection } {
  const { shown, resolution, reference, rangeIndex } = check;
  if (range === null || rangeIndex === null) return { ok: false, why: 'no-range' };
  if (reference.u === null) return { ok: false, why: 'no-doubt' };
  if (Math.abs(shown) < leastShare * range.top) return { ok: false, why: 'low-on-range' };
  const factor = reference.value / shown;
  if (!(factor >= 0.8 && factor <= 1.25)) return { ok: false, why: 'too-far' };
  const step = resolution / 2 / Math.sqrt(3);
  const percent = 100 * Math.hypot(reference.u / reference.value, step / shown);
  return {
    ok: true,
    correction: { rangeIndex, factor, percent, wallMs: check.wallMs, against: reference.label },
  };
}
