import type { Calculation } from './calculation.ts';
import { adjustTurns } from './adjust-turns.ts';
import { compare } from './compare/compare.ts';
import { bank } from './bank/bank.ts';
import { cooling } from './cooling.ts';
import { coreRating } from './core-rating.ts';
import { doubleStack } from './double-stack.ts';
import { duty } from './duty.ts';
import { equivalentCircuit } from './equivalent-circuit.ts';
import { excitation } from './excitation/excitation.ts';
import { fluxDensity } from './flux-density.ts';
import { fourWireResistance } from './four-wire-resistance.ts';
import { heatRun } from './heat-run.ts';
import { inrushAndFuse } from './inrush-and-fuse.ts';
import { insulationResistance } from './insulation-resistance.ts';
import { ironLossSplit } from './iron-loss-split.ts';
import { jointGap } from './joint-gap.ts';
import { loadPerformance } from './load-performance.ts';
import { loadedRun } from './loaded-run.ts';
import { meterUncertainty } from './meter-uncertainty.ts';
import { noLoad } from './no-load/no-load.ts';
import { polarity } from './polarity.ts';
import { powerWithoutWattmeter } from './power-without-wattmeter.ts';
import { rectifier } from './rectifier.ts';
import { riseAtLoad } from './rise-at-load.ts';
import { secondary } from './secondary/secondary.ts';
import { shortCircuit } from './short-circuit.ts';
import { supplyCircuit } from './supply-circuit.ts';
import { temperatureByResistance } from './temperature-by-resistance.ts';
import { testCoil } from './test-coil/test-coil.ts';
import { twoWireResistance } from './two-wire-resistance.ts';
import { widestWire } from './widest-wire.ts';
import { windingMetal } from './winding-metal.ts';
import { windingVolts } from './winding-volts.ts';
import { windowFit } from './window-fit/window-fit.ts';
import { wire } from './wire.ts';

/** A new calculation is a file and a row here. */
const rows = {
  'meter-uncertainty': meterUncertainty,
  'test-coil': testCoil,
  'flux-density': fluxDensity,
  'core-rating': coreRating,
  wire,
  'widest-wire': widestWire,
  'window-fit': windowFit,
  secondary,
  'adjust-turns': adjustTurns,
  'no-load': noLoad,
  excitation,
  'equivalent-circuit': equivalentCircuit,
  'short-circuit': shortCircuit,
  'load-performance': loadPerformance,
  'loaded-run': loadedRun,
  'temperature-by-resistance': temperatureByResistance,
  'heat-run': heatRun,
  cooling,
  duty,
  'rise-at-load': riseAtLoad,
  'iron-loss-split': ironLossSplit,
  polarity,
  bank,
  'double-stack': doubleStack,
  'supply-circuit': supplyCircuit,
  rectifier,
  'insulation-resistance': insulationResistance,
  'power-without-wattmeter': powerWithoutWattmeter,
  'winding-metal': windingMetal,
  'four-wire-resistance': fourWireResistance,
  'two-wire-resistance': twoWireResistance,
  'joint-gap': jointGap,
  'inrush-and-fuse': inrushAndFuse,
  'winding-volts': windingVolts,
  compare,
};

export type CalculationName = keyof typeof rows;

/** The results of each calculation, by name. */
export type ResultsOf = {
  readonly [Name in CalculationName]: (typeof rows)[Name] extends Calculation<infer R> ? R : never;
};

/** Every calculation, by name; a name picks the type of its results. */
export const calculations: { readonly [Name in CalculationName]: Calculation<ResultsOf[Name]> } = rows;

export const calculationNames: readonly string[] = Object.keys(calculations);

export const isCalculationName = (name: string): name is CalculationName => Object.hasOwn(calculations, name);
