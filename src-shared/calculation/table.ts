import type { Calculation } from './calculation.ts';
import { testCoil } from './test-coil/test-coil.ts';

/** Every calculation, by name. A new one is a file and a row here. */
export const calculations = {
  'test-coil': testCoil,
};

export type CalculationName = keyof typeof calculations;

/** The results of each calculation, by name. */
export type ResultsOf = {
  readonly [Name in CalculationName]: (typeof calculations)[Name] extends Calculation<infer R> ? R : never;
};

/** The same table, in the form that lets a name pick the type of its results. */
export const calculationsByName: { readonly [Name in CalculationName]: Calculation<ResultsOf[Name]> } = calculations;

export const calculationNames: readonly string[] = Object.keys(calculations);

export const isCalculationName = (name: string): name is CalculationName => Object.hasOwn(calculations, name);
