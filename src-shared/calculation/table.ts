import type { Calculation } from './calculation.ts';
import { coreRating } from './core-rating.ts';
import { fluxDensity } from './flux-density.ts';
import { meterUncertainty } from './meter-uncertainty.ts';
import { testCoil } from './test-coil/test-coil.ts';
import { widestWire } from './widest-wire.ts';
import { windingVolts } from './winding-volts.ts';
import { wire } from './wire.ts';

/** Every calculation, by name. A new one is a file and a row here. */
export const calculations = {
  'meter-uncertainty': meterUncertainty,
  'test-coil': testCoil,
  'flux-density': fluxDensity,
  'core-rating': coreRating,
  wire,
  'widest-wire': widestWire,
  'winding-volts': windingVolts,
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
