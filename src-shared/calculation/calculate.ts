import { refuse, type Answer } from './answer.ts';
import { nearestName } from './nearest-name.ts';
import { calculationNames, calculations, isCalculationName, type CalculationName, type ResultsOf } from './table.ts';

/**
 * The one way to get a number: bench, plans, reports and the headless command all call this.
 *
 * Returns the results with their working, cautions and sources, or a refusal; never throws, and no number in the answer
 * is NaN or infinite. With a name of the table the results are typed; any other name is refused with the nearest one.
 */
export function calculate<Name extends CalculationName>(name: Name, input: unknown): Answer<ResultsOf[Name]>;
export function calculate(name: string, input: unknown): Answer<unknown>;
export function calculate(name: string, input: unknown): Answer<unknown> {
  if (!isCalculationName(name)) {
    return refuse(
      'unknown-calculation',
      `There is no calculation "${name}". The nearest name is "${nearestName(name, calculationNames)}".`,
    );
  }
  return calculations[name].answer(input);
}
