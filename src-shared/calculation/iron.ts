import { rectangular, type Estimate } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, refuse, type Caution, type Refusal } from './answer.ts';
import { measured, optional } from './field.ts';

/** The middle limb of a lamination stack, as it is measured: keys that several calculations share. */
export const ironFields = {
  ironAreaMm2: optional(measured({ label: 'Net iron area', unit: 'mm²', above: 0, help: 'Used as it is.' })),
  tongueMm: optional(measured({ label: 'Tongue', unit: 'mm', above: 0, help: 'Width of the middle limb.' })),
  stackMm: optional(measured({ label: 'Stack', unit: 'mm', above: 0, help: 'Thickness of the pile of laminations.' })),
  stackingFactor: optional(
    measured({
      label: 'Stacking factor',
      help: 'Part of the stack that is iron. Left out: 0.95, give or take 0.02.',
      above: 0,
      atMost: 1,
    }),
  ),
};

export interface IronInput {
  readonly ironAreaMm2?: Estimate;
  readonly tongueMm?: Estimate;
  readonly stackMm?: Estimate;
  readonly stackingFactor?: Estimate;
}

/** Laminations of 0.35 to 0.5 mm fill 0.95 to 0.97 of the stack; book examples use 0.94 too (Fitzgerald, ex. 1.8). */
const assumedStackingFactor = rectangular(0.95, 0.02);

/** What the net iron area is made of, under the keys of the input: to be spread into a tree for `propagate`. */
export interface Iron {
  readonly ok: true;
  readonly factors: IronInput;
  readonly cautions: readonly Caution[];
}

/** Net iron area in mm² from the values of an `Iron`'s factors. */
export const netArea = ({
  ironAreaMm2,
  tongueMm = NaN,
  stackMm = NaN,
  stackingFactor = NaN,
}: Values<IronInput>): number => ironAreaMm2 ?? tongueMm * stackMm * stackingFactor;

/** The same as it is written down: the numbers that are multiplied. */
export const netAreaText = ({ ironAreaMm2, tongueMm, stackMm, stackingFactor }: IronInput): string =>
  [ironAreaMm2, tongueMm, stackMm, stackingFactor]
    .flatMap((each) => (each === undefined ? [] : [formatNumber(each.value, 6)]))
    .join(' × ');

/** Which way the area was given: net, or by the stack; refused when both, or neither. */
export function ironOf({ ironAreaMm2, tongueMm, stackMm, stackingFactor }: IronInput): Iron | Refusal {
  if (ironAreaMm2 !== undefined) {
    const other = { tongueMm, stackMm, stackingFactor };
    const extra = Object.entries(other).find(([, value]) => value !== undefined)?.[0];
    if (extra !== undefined) return refuse('conflict', 'Give the net iron area, or tongue and stack, not both.', extra);
    return { ok: true, factors: { ironAreaMm2 }, cautions: [] };
  }
  if (tongueMm === undefined && stackMm === undefined) {
    return refuse('missing-key', 'Give the net iron area, or tongue and stack.', 'ironAreaMm2');
  }
  if (tongueMm === undefined) return refuse('missing-key', 'The stack needs the tongue.', 'tongueMm');
  if (stackMm === undefined) return refuse('missing-key', 'The tongue needs the stack.', 'stackMm');
  const assumed = caution('stacking-factor-assumed', 'A stacking factor of 0.95 ± 0.02 was assumed.');
  return {
    ok: true,
    factors: { tongueMm, stackMm, stackingFactor: stackingFactor ?? assumedStackingFactor },
    cautions: stackingFactor === undefined ? [assumed] : [],
  };
}
