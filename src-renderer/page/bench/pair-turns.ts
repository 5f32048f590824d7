import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { testCoilInput } from '../../../src-shared/procedure/kept-value.ts';
import type { KeptPair } from '../../../src-shared/record/run.ts';

/** The turns that one pair alone comes to; null when they cannot be told. */
export function turnsOfPair(
  pair: KeptPair,
  hertz: number,
): { readonly value: number; readonly u: number | null } | null {
  const input = testCoilInput([{ pair: { ...pair, withdrawn: null }, facts: {} }], hertz);
  const answer = calculate('test-coil', input);
  return answer.ok ? answer.results.primaryTurns : null;
}
