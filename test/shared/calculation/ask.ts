import type { Worked } from '../../../src-shared/calculation/answer.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { CalculationName, ResultsOf } from '../../../src-shared/calculation/table.ts';

/** The answer of a calculation that must not refuse. */
export function accept<Name extends CalculationName>(name: Name, input: unknown): Worked<ResultsOf[Name]> {
  const answer = calculate(name, input);
  if (!answer.ok) throw new Error(`${name} refused: ${JSON.stringify(answer.error)}`);
  return answer;
}

/** The error of a calculation that must refuse. */
export function refusal(name: CalculationName, input: unknown) {
  const answer = calculate(name, input);
  if (answer.ok) throw new Error(`${name} did not refuse ${JSON.stringify(input)}`);
  return answer.error;
}

export const cautionCodes = ({ cautions }: Pick<Worked<unknown>, 'cautions'>) => cautions.map(({ code }) => code);
