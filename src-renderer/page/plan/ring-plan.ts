import type { PhysicalResult } from '../../../src-shared/calculation/answer.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { windingNeed } from './output-need.ts';
import type { PlanNumbers } from './plan-asked.ts';
import type { PlanBasis } from './plan-record.ts';
import type { OutputAsked } from './planned.ts';

/** What can be said of a ring without its layers. */
export interface RingPlan {
  readonly voltsPerTurn: PhysicalResult;
  /** Peak flux. */
  readonly flux: PhysicalResult;
  readonly outputs: readonly RingOutput[];
}

interface RingOutput {
  readonly key: string;
  readonly label: string;
  /** Turns that give the volts with nothing on the output, up to the next whole one; the drop wants some more. */
  readonly turns: number;
  /** Least area of the wire by the density allowed, in mm². */
  readonly areaMm2: number | null;
}

/** Turns, volts a turn, flux and wire of a ring, by `flux-density`; null for another shape, or where these are not known. */
export function ringPlan(
  { core, turns }: PlanBasis,
  { primaryVolts, added = 0, density }: PlanNumbers,
  hertz: 50 | 60,
  outputs: readonly OutputAsked[],
): RingPlan | null {
  if (core.shape !== 'toroid' || turns === null || primaryVolts === undefined) return null;
  if (core.tongue === undefined || core.stack === undefined) return null;
  const answer = calculate('flux-density', {
    volts: primaryVolts,
    hertz,
    turns: { ...turns, value: turns.value + added },
    tongueMm: core.tongue,
    stackMm: core.stack,
    ...(core.stackingFactor === undefined ? {} : { stackingFactor: core.stackingFactor }),
  });
  if (!answer.ok) return null;
  const { voltsPerTurn, peakFluxDensity } = answer.results;
  return {
    voltsPerTurn,
    flux: peakFluxDensity,
    outputs: outputs.flatMap(({ key, label, feeds, numbers: { loadVolts, loadAmps } }) => {
      if (loadVolts === undefined || loadAmps === undefined) return [];
      const need = windingNeed(feeds, loadVolts, loadAmps);
      if (need.kind !== 'alternating') return [];
      const areaMm2 = density === undefined ? null : need.amps / density;
      return [{ key, label, turns: Math.ceil(need.volts / voltsPerTurn.value - 1e-9), areaMm2 }];
    }),
  };
}
