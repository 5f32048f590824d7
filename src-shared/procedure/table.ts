import { cooling } from './cooling.ts';
import { heatRun } from './heat-run.ts';
import { insulationResistance } from './insulation-resistance.ts';
import { loadedRun } from './loaded-run.ts';
import { noLoad } from './no-load.ts';
import { noLoadSweep } from './no-load-sweep.ts';
import { polarity } from './polarity.ts';
import type { Procedure } from './procedure.ts';
import { shortCircuit } from './short-circuit.ts';
import { testCoil } from './test-coil.ts';
import { wattsByAmmeters, wattsByCounter, wattsByHeat, wattsByVoltmeters } from './watts-without-wattmeter.ts';
import { windingResistance } from './winding-resistance.ts';

/** Every procedure, in the order of the job. */
export const procedures: readonly Procedure[] = [
  windingResistance,
  insulationResistance,
  testCoil,
  polarity,
  noLoad,
  noLoadSweep,
  wattsByAmmeters,
  wattsByVoltmeters,
  wattsByCounter,
  wattsByHeat,
  heatRun,
  loadedRun,
  shortCircuit,
  cooling,
];

/** The procedure with this id; undefined when there is none. */
export const procedureById = (id: string): Procedure | undefined => procedures.find((procedure) => procedure.id === id);
