import type { Propagated } from '../../quantity/combine.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { propagate } from '../../quantity/propagate.ts';
import type { Bench } from './bench.ts';
import { turnsBy, type Observation } from './observation.ts';

/** Why no coil can be suggested. */
export type NoSuggestion =
  'gain-dominates' | 'primary-reading-dominates' | 'more-turns-than-the-primary' | 'no-uncertainty-stated';

export type Suggestion =
  { readonly coilTurns: number; readonly reason: null } | { readonly coilTurns: null; readonly reason: NoSuggestion };

/** To pin one turn, the 95 % interval must reach no further than half a turn to each side. */
const halfATurn = 0.5;

const none = (reason: NoSuggestion): Suggestion => ({ coilTurns: null, reason });

/**
 * Fewest turns of a test coil that would pin the primary to one turn with the meters of an observation, on the same
 * ranges and at the same volts: the same count, asked again with more turns.
 *
 * The own part of the coil reading (digits, noise) stays the same in volts, so it matters less with more turns; its
 * shared part (gain) grows with the volts, and no coil can lower it.
 */
export function suggestCoilTurns(bench: Bench, observation: Observation, primaryTurns: number): Suggestion {
  const withTurns = (coilTurns: number): Propagated =>
    propagate(withCoil(bench, coilTurns), (values) => turnsBy(values, observation));
  const isPinned = ({ u, k }: Propagated) => u !== null && k * u <= halfATurn;
  const now = withTurns(observation.coilTurns);
  if (now.u === null || now.u === 0) return none('no-uncertainty-stated');

  const most = Math.floor(primaryTurns);
  if (most < 1 || !isPinned(withTurns(most))) return none(reasonWhyNot(withTurns(1e6), isPinned));
  let [tooFew, enough] = [0, most];
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (isPinned(withTurns(middle))) enough = middle;
    else tooFew = middle;
  }
  return { coilTurns: enough, reason: null };
}

/** What is left when the coil's own doubt is gone tells what stands in the way. */
function reasonWhyNot(atBest: Propagated, isPinned: (result: Propagated) => boolean): NoSuggestion {
  if (isPinned(atBest)) return 'more-turns-than-the-primary';
  const ofGains = atBest.budget
    .filter(({ input }) => input.startsWith('shared:'))
    .reduce((sum, { u }) => sum + u ** 2, 0);
  return ofGains >= (atBest.u ?? 0) ** 2 / 2 ? 'gain-dominates' : 'primary-reading-dominates';
}

function withCoil(bench: Bench, coilTurns: number): Bench {
  const scaled = (volts: Estimate, by: number): Estimate => ({
    ...volts,
    value: volts.value * by,
    ...(volts.shared === undefined ? {} : { shared: { id: volts.shared.id, u: volts.shared.u * by } }),
  });
  const readings = bench.readings.map((reading) => ({
    ...reading,
    coilTurns,
    coilVolts: scaled(reading.coilVolts, coilTurns / reading.coilTurns),
  }));
  return { ...bench, readings };
}
