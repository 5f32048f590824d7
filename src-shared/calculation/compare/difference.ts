import { exact, rectangular, type Estimate } from '../../quantity/estimate.ts';
import type { Propagated } from '../../quantity/combine.ts';
import { propagate } from '../../quantity/propagate.ts';
import type { Conditions, Item } from './input.ts';

/** Near the knee the no-load current goes with the volts to the power of 4 to 6; nothing here goes with more. */
const steepest = 6;

/** A value and the further parts of its doubt, one leaf for each; a shared one keeps its sign. */
const leavesOf = ({ value, parts = [] }: Item) => ({
  value,
  parts: parts.map(({ id, u, dof = Infinity }) => ({
    sign: Math.sign(u),
    part: (id === undefined
      ? { ...exact(0), u: Math.abs(u), dof }
      : { ...exact(0), shared: { id, u: Math.abs(u) } }) satisfies Estimate,
  })),
});

/** What the flux goes with: volts over hertz. */
const fluxLeaves = (before: Conditions, after: Conditions) =>
  before.volts === undefined || after.volts === undefined
    ? null
    : {
        voltsBefore: before.volts,
        voltsAfter: after.volts,
        hertzBefore: before.hertz ?? exact(1),
        hertzAfter: after.hertz ?? exact(1),
      };

type Flux = { readonly [Key in keyof NonNullable<ReturnType<typeof fluxLeaves>>]: number };
const fluxRatio = ({ voltsBefore, voltsAfter, hertzBefore, hertzAfter }: Flux) =>
  voltsBefore / hertzBefore / (voltsAfter / hertzAfter);

export interface Difference extends Propagated {
  /** The value after, at the volts before: as it is where no power of the volts was given. */
  readonly afterAtSameVolts: number;
  /** Half width of what the unlike volts may have done, where no power says how much. */
  readonly voltsAllowance: number;
}

/**
 * After less before, with what both have in common taken out (JCGM 100:2008, 5.2.2 and F.1.2.3). With a power of the volts
 * the value after is brought to the volts before, V / f to that power; without it, whatever the unlike volts may have done
 * up to the sixth power is added to the doubt, and so is the doubt of the volts themselves.
 */
export function differenceOf(before: Item, after: Item, conditions: readonly [Conditions, Conditions]): Difference {
  const exponent = before.voltsExponent ?? after.voltsExponent;
  const flux = fluxLeaves(...conditions);
  const ratio =
    flux === null
      ? 1
      : fluxRatio({
          voltsBefore: flux.voltsBefore.value,
          voltsAfter: flux.voltsAfter.value,
          hertzBefore: flux.hertzBefore.value,
          hertzAfter: flux.hertzAfter.value,
        });
  const voltsAllowance = exponent === undefined ? Math.abs(after.value.value) * Math.abs(ratio ** steepest - 1) : 0;
  const tree = {
    before: leavesOf(before),
    after: leavesOf(after),
    flux,
    exponent: exponent ?? exact(steepest),
    allowance: rectangular(0, voltsAllowance),
  };
  // Where the power is not known the values stay where they are, and only the doubt of the volts comes through.
  const middle = exponent === undefined ? ratio : 1;
  const found = propagate(tree, (each) => {
    const sum = ({ value, parts }: typeof each.before) =>
      parts.reduce((total, { sign, part }) => total + sign * part, value);
    const factor = each.flux === null ? 1 : (fluxRatio(each.flux) / middle) ** each.exponent;
    return factor * sum(each.after) - sum(each.before) + each.allowance;
  });
  const afterAtSameVolts =
    exponent === undefined || flux === null ? after.value.value : found.value + before.value.value;
  return { ...found, afterAtSameVolts, voltsAllowance };
}
