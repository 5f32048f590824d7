import { formatNumber } from '../../quantity/format.ts';
import { line, physical, type PhysicalResult, type WorkingLine } from '../answer.ts';
import { obstacleBetween, type Obstacle } from './conditions.ts';
import { differenceOf } from './difference.ts';
import type { CompareInput, Conditions, Item } from './input.ts';

export type Verdict = 'changed' | 'no-visible-change' | 'not-comparable';

type Reason = Obstacle['reason'] | 'only-in-one' | 'unit-differs' | 'uncertainty-not-known';

export interface Compared {
  readonly quantity: string;
  /** The unit of the values. */
  readonly unit: string;
  readonly before: number | null;
  readonly after: number | null;
  /** After less before, at the volts before where a power of the volts was given; null where it would mislead. */
  readonly difference: PhysicalResult | null;
  /** Standard uncertainty of the difference, what both have in common taken out; null when it cannot be known. */
  readonly u: number | null;
  /** The smallest change that these meters could have shown: half the 95 % interval. */
  readonly leastVisible: number | null;
  readonly verdict: Verdict;
  /** Why the two are not comparable, as a code and in words; null where they are. */
  readonly reason: Reason | null;
  readonly condition: keyof Conditions | null;
  readonly why: string | null;
}

/** A difference of two temperatures is in degrees of difference. */
const unitOfDifference = ({ unit = '' }: Item) => (unit === '°C' ? 'K' : unit === '°F' ? 'F°' : unit);

type NotComparable = Pick<Compared, 'reason' | 'why'> & { readonly condition?: Compared['condition'] };
export const notComparable = (
  item: Item,
  values: Pick<Compared, 'before' | 'after'>,
  because: NotComparable,
): Compared => ({
  quantity: item.quantity,
  unit: item.unit ?? '',
  ...values,
  difference: null,
  u: null,
  leastVisible: null,
  verdict: 'not-comparable',
  condition: null,
  ...because,
});

/** Whether 0 lies outside of every interval that the difference has; an exact difference is one as soon as it is there. */
function isVisible({ value, u, interval95, drawn }: PhysicalResult, size: number): boolean {
  if (u === 0) return Math.abs(value) > 1e-12 * size;
  return [interval95, drawn?.interval95 ?? interval95].every((ends) => ends !== null && (ends[0] > 0 || ends[1] < 0));
}

export interface Judged {
  readonly compared: Compared;
  readonly working: readonly WorkingLine[];
  /** The volts differed a little, and nobody said how much that does. */
  readonly isVoltsAllowedFor: boolean;
}

/** Two values of one quantity, each with the conditions of its set unless it states its own. */
export function judge(before: Item, after: Item, sets: CompareInput): Judged {
  const values = { before: before.value.value, after: after.value.value };
  const alone = (because: NotComparable) => ({
    compared: notComparable(before, values, because),
    working: [],
    isVoltsAllowedFor: false,
  });
  if (before.unit !== after.unit) {
    const why = `One is in ${before.unit ?? 'no unit'}, the other in ${after.unit ?? 'no unit'}.`;
    return alone({ reason: 'unit-differs', why });
  }
  const conditions: readonly [Conditions, Conditions] = [
    before.conditions ?? sets.before.conditions ?? {},
    after.conditions ?? sets.after.conditions ?? {},
  ];
  const exponent = before.voltsExponent ?? after.voltsExponent;
  const item = exponent === undefined ? before : { ...before, voltsExponent: exponent };
  const obstacle = obstacleBetween(item, ...conditions);
  if (obstacle !== null) return alone(obstacle);
  const found = differenceOf(before, after, conditions);
  const difference = physical(unitOfDifference(before), found);
  const n = (value: number) => formatNumber(value, 6);
  const isBrought = found.afterAtSameVolts !== values.after;
  const working = [
    ...(isBrought
      ? [
          line(
            `x2′ (${before.quantity})`,
            'x2 × ((V1 / f1) / (V2 / f2))^n',
            `${n(values.after)} brought to the volts before, n = ${n(exponent?.value ?? 0)}`,
            found.afterAtSameVolts,
            before.unit ?? '',
          ),
        ]
      : []),
    line(
      `Δ (${before.quantity})`,
      isBrought ? 'x2′ − x1' : 'x2 − x1',
      `${n(found.afterAtSameVolts)} − ${n(values.before)}`,
      difference.value,
      difference.unit,
    ),
  ];
  if (difference.u === null) {
    const why = 'Of one of the two nobody knows how far it can be trusted.';
    const compared = { ...notComparable(before, values, { reason: 'uncertainty-not-known', why }), difference };
    return { compared, working, isVoltsAllowedFor: false };
  }
  const leastVisible = found.k * difference.u;
  return {
    compared: {
      quantity: before.quantity,
      unit: before.unit ?? '',
      ...values,
      difference,
      u: difference.u,
      leastVisible,
      verdict: isVisible(difference, Math.abs(values.before)) ? 'changed' : 'no-visible-change',
      reason: null,
      condition: null,
      why: null,
    },
    working: [
      ...working,
      line(
        `U (${before.quantity})`,
        'k × u(x2 − x1)',
        `${n(found.k)} × ${n(difference.u)}`,
        leastVisible,
        difference.unit,
      ),
    ],
    isVoltsAllowedFor: found.voltsAllowance > 0,
  };
}
