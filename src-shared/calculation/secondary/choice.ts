import { propagate } from '../../quantity/propagate.ts';
import { physical, type PhysicalResult } from '../answer.ts';
import type { Setting } from './candidate.ts';
import { fedCircuit, meanTurnOf, secondaryOhms, strandMetres, type CircuitValues } from './circuit.ts';
import { reasonFor, type Ranked } from './rank.ts';
import type { WireKind } from './wire-option.ts';

/** How long a winding may carry a current density: common practice, no source. */
export type LoadTime = 'hours' | 'minutes' | 'bursts';

/** A/mm²: to the first for hours, to the second for minutes. */
export const hoursDensity = 3.5;
export const minutesDensity = 6;

const loadTime = (density: number): LoadTime =>
  density <= hoursDensity ? 'hours' : density <= minutesDensity ? 'minutes' : 'bursts';

/** One way to wind the secondary. */
export interface SecondaryChoice {
  readonly wire: string;
  readonly kind: WireKind;
  /** One strand over its insulation, along the limb and out from it. */
  readonly alongMm: number;
  readonly outMm: number;
  readonly areaMm2: number;
  readonly strands: number;
  readonly strandsDeep: number;
  readonly turns: number;
  readonly layers: number;
  readonly turnsPerLayer: number;
  /** From the start of the free room, and what is left of it. */
  readonly buildMm: number;
  readonly spareMm: number;
  /** Insulation included; and of the metal alone, the handbooks' copper factor. */
  readonly fill: number;
  readonly copperFill: number;
  readonly currentDensity: PhysicalResult;
  readonly loadTime: LoadTime;
  readonly meanTurn: PhysicalResult;
  /** To cut, of each strand, leads included. */
  readonly lengthToCut: PhysicalResult;
  readonly copperMass: PhysicalResult;
  /** Of the secondary to direct current, at its temperature under load. */
  readonly ohms: PhysicalResult;
  /** Resistance at line hertz over that. */
  readonly acFactor: number;
  readonly noLoadVolts: PhysicalResult;
  readonly loadedVolts: PhysicalResult;
  /** Under load with the line low, and with no load with the line high. */
  readonly lowLineVolts: PhysicalResult;
  readonly highLineVolts: PhysicalResult;
  readonly drop: PhysicalResult;
  /** In the secondary alone; and in both windings and the joints by this load. */
  readonly secondaryLoss: PhysicalResult;
  readonly copperLoss: PhysicalResult;
  readonly reason: string;
}

/** A ranked candidate with every figure's uncertainty. `line` is how far the line strays, as a part. */
export function choiceOf(setting: Setting, ranked: Ranked, line: number): SecondaryChoice {
  const { candidate } = ranked;
  const { circuit, load, freeOut } = setting;
  const { option, strands, turns, build } = candidate;
  const of = (unit: string, formula: (values: CircuitValues) => number) => physical(unit, propagate(circuit, formula));
  const { loadAmps } = circuit;
  return {
    wire: option.name,
    kind: option.kind,
    alongMm: option.alongMm,
    outMm: option.outMm,
    areaMm2: option.areaMm2,
    strands,
    strandsDeep: candidate.strandsDeep,
    turns,
    layers: candidate.layers,
    turnsPerLayer: candidate.turnsPerLayer,
    buildMm: build,
    spareMm: freeOut - build,
    fill: candidate.fill,
    copperFill: candidate.copperFill,
    currentDensity: physical(
      'A/mm²',
      propagate({ loadAmps }, (each) => each.loadAmps / (option.areaMm2 * strands)),
    ),
    loadTime: loadTime(candidate.density),
    meanTurn: of('mm', (values) => meanTurnOf(values, candidate.meanMiddleMm)),
    lengthToCut: of('m', (values) => strandMetres(values, candidate, load)),
    copperMass: of('kg', (values) => (strandMetres(values, candidate, load) / 1000) * strands * option.kgPerKm),
    ohms: of('Ω', (values) => secondaryOhms(values, candidate, load)),
    acFactor: candidate.acFactor,
    noLoadVolts: of('V', (values) => fedCircuit(values, candidate, load).open),
    loadedVolts: of('V', (values) => fedCircuit(values, candidate, load).loaded),
    lowLineVolts: of('V', (values) => fedCircuit(values, candidate, load, 1 - line).loaded),
    highLineVolts: of('V', (values) => fedCircuit(values, candidate, load, 1 + line).open),
    drop: of('V', (values) => {
      const { open, loaded } = fedCircuit(values, candidate, load);
      return open - loaded;
    }),
    secondaryLoss: of('W', (values) => fedCircuit(values, candidate, load).secondaryLoss),
    copperLoss: of('W', (values) => fedCircuit(values, candidate, load).copperLoss),
    reason: reasonFor(ranked, setting.target),
  };
}
