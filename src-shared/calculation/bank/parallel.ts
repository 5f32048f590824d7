import { propagate } from '../../quantity/propagate.ts';
import { physical } from '../answer.ts';
import { acrossLastLink, currentOf, inParallel, type UnitValues } from './circuit.ts';
import type { BankInput } from './input.ts';
import { along, size, zero } from './phasor.ts';
import type { BankResults } from './results.ts';

/** What may stand across the last link of a parallel for closing to be proposed, of a unit's volts: common practice. */
const closingPart = 0.01;
/** Index of the largest of some numbers. */
export const largest = (all: readonly number[]) => all.indexOf(Math.max(...all));

/** What only a parallel bank has. */
export function parallelResults(tree: { readonly units: BankInput['units'] }, units: readonly UnitValues[]) {
  const nominal = inParallel(units);
  const idle = units.map((unit) => currentOf(unit, nominal.volts));
  const worst = largest(idle.map(size));
  const worstIdle = idle[worst] ?? zero;
  const gaps = units.map((_, index) => acrossLastLink(units, index));
  const widest = largest(gaps.map(size));
  const gap = gaps[widest] ?? zero;
  // Along the direction that they have: smooth, where a size would have a corner at nothing.
  const circulating = propagate(tree, (each) => {
    const unit = each.units[worst];
    return unit === undefined ? NaN : along(currentOf(unit, inParallel(each.units).volts), worstIdle);
  });
  const lastLink = propagate(tree, (each) => along(acrossLastLink(each.units, widest), gap));
  const lowest = Math.min(...units.map(({ openVolts }) => openVolts));
  const closing = Math.abs(lastLink.value) < closingPart * lowest ? 'propose' : 'do-not-close';
  const results = {
    circulatingAmps: physical('A', circulating),
    lastLinkVolts: physical('V', lastLink),
    closing,
  } satisfies Partial<BankResults>;
  return { results, idle: idle.map(size) };
}
