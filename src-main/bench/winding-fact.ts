import * as v from 'valibot';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import type { WindingFields } from '../../src-shared/record/build.ts';
import type { Result } from '../../src-shared/record/run.ts';

const Celsius = v.object({ celsius: v.object({ value: v.number() }) });

/**
 * What a kept result says of a winding, computed anew from its own input: turns, or ohms with their temperature. Null for
 * any other result, and where no uncertainty is known.
 */
export function windingFact(
  result: Result,
): { readonly reason: string; readonly fields: Partial<WindingFields> } | null {
  const { calculation, input, resultId } = result;
  if (calculation === 'test-coil') {
    const answer = calculate('test-coil', input);
    if (!answer.ok || answer.results.primaryTurns.u === null) return null;
    const { value, u } = answer.results.primaryTurns;
    return {
      reason: `Found by test coil, result ${resultId}.`,
      fields: { turns: { kind: 'estimated', value, u, resultId } },
    };
  }
  if (calculation !== 'four-wire-resistance' && calculation !== 'two-wire-resistance') return null;
  const answer = calculate(calculation, input);
  const at = v.safeParse(Celsius, input);
  if (!answer.ok || !at.success || answer.results.ohms.u === null) return null;
  const { value, u } = answer.results.ohms;
  return {
    reason: `Measured, result ${resultId}.`,
    fields: { ohms: { value, u }, ohmsCelsius: at.output.celsius.value },
  };
}
