import type { CalculationName } from '../calculation/table.ts';

/** A condition that a quantity depends on, so that two values of it are only comparable where it is alike. */
export type ConditionKey = 'volts' | 'hertz' | 'amps' | 'ambientCelsius' | 'startCelsius' | 'supplyKind' | 'meterKind';

/** A quantity of a kept result that two builds can be compared in. */
export interface ComparedQuantity {
  readonly name: string;
  readonly calculation: CalculationName;
  /** Found with a load on: it is held against nothing that was found without one. */
  readonly isLoaded?: true;
  /** Where its value stands: among the results, or a measured input of the calculation itself. */
  readonly in: 'results' | 'input';
  /** With points between the steps, such as `predictions.0.amps`. */
  readonly key: string;
  /** Of a measured input, which carries no unit of its own. */
  readonly unit?: string;
  readonly dependsOn: readonly ConditionKey[];
  /** Which power of the volts brings it to other volts, where a curve tells. */
  readonly power?: 'amps' | 'watts';
}

/** In the order in which a person asks about them. */
export const comparedQuantities: readonly ComparedQuantity[] = [
  {
    name: 'No-load current',
    calculation: 'no-load',
    in: 'input',
    key: 'amps',
    unit: 'A',
    dependsOn: ['volts', 'hertz', 'supplyKind', 'meterKind'],
    power: 'amps',
  },
  {
    name: 'Core loss',
    calculation: 'no-load',
    in: 'results',
    key: 'coreLoss',
    dependsOn: ['volts', 'hertz'],
    power: 'watts',
  },
  {
    name: 'No-load current, from the curve',
    calculation: 'excitation',
    in: 'results',
    key: 'predictions.0.amps',
    dependsOn: ['volts', 'hertz', 'supplyKind', 'meterKind'],
  },
  {
    name: 'Peak flux, from the curve',
    calculation: 'excitation',
    in: 'results',
    key: 'predictions.0.tesla',
    dependsOn: ['volts', 'hertz'],
  },
  { name: 'Knee', calculation: 'excitation', in: 'results', key: 'knee', dependsOn: ['hertz'] },
  {
    name: 'Final rise, no load',
    calculation: 'heat-run',
    in: 'results',
    key: 'finalRise',
    dependsOn: ['volts', 'hertz', 'ambientCelsius', 'startCelsius'],
  },
  {
    name: 'Final rise of the core, loaded',
    calculation: 'heat-run',
    isLoaded: true,
    in: 'results',
    key: 'finalRise',
    dependsOn: ['volts', 'hertz', 'amps', 'ambientCelsius', 'startCelsius'],
  },
  { name: 'Time constant', calculation: 'heat-run', in: 'results', key: 'timeConstant', dependsOn: [] },
  {
    name: 'Winding rise by resistance',
    calculation: 'temperature-by-resistance',
    in: 'results',
    key: 'rise',
    dependsOn: ['hertz', 'ambientCelsius'],
  },
  {
    name: 'Volts without load',
    calculation: 'loaded-run',
    in: 'results',
    key: 'openCircuitVolts',
    dependsOn: ['volts', 'hertz'],
  },
  {
    name: 'Output resistance',
    calculation: 'loaded-run',
    in: 'results',
    key: 'outputResistance',
    dependsOn: ['hertz'],
  },
  { name: 'Sag under load', calculation: 'loaded-run', in: 'results', key: 'regulationPercent', dependsOn: ['amps'] },
  {
    name: 'Short-circuit impedance',
    calculation: 'short-circuit',
    in: 'results',
    key: 'impedance',
    dependsOn: ['hertz'],
  },
  { name: 'Short-circuit resistance', calculation: 'short-circuit', in: 'results', key: 'resistance', dependsOn: [] },
];
