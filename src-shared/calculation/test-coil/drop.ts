import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import { caution, physical, refuse, type Caution, type PhysicalResult, type Refusal } from '../answer.ts';
import { primaryVolts, type Bench } from './bench.ts';
import type { TestCoilInput } from './input.ts';

/** The part of the count that the primary's own drop may account for, stated apart from value and u. */
export interface DropAllowance {
  /** The count may be too high by up to so many turns; 0 when it was corrected; null when nobody can tell. */
  readonly allowance: PhysicalResult | null;
  readonly cautions: readonly Caution[];
}

/** No-load watts above volts times amps mean that one of them was read wrong. */
export function impossibleLoss({ noLoadAmps, noLoadWatts, readings }: TestCoilInput): Refusal | null {
  if (noLoadAmps === undefined || noLoadWatts === undefined) return null;
  const volts = Math.max(...readings.map((reading) => reading.primaryVolts.value));
  if (noLoadWatts.value <= volts * noLoadAmps.value) return null;
  return refuse('conflict', 'The no-load watts are more than the primary volts times the no-load amps.', 'noLoadWatts');
}

/**
 * The one-sided allowance: since |V - I0 (R1 + jX1)| >= V - I0 |R1 + jX1|, a coil reads low by at most I0 |Z1| / V and the
 * count comes out high by at most that, whatever the power factor.
 */
export function dropAllowance(input: TestCoilInput, bench: Bench, primaryTurns: number): DropAllowance {
  const { noLoadAmps, noLoadWatts, primaryOhms, primaryReactanceOhms } = input;
  if (bench.drop !== null)
    return {
      allowance: physical(
        'turns',
        propagate({}, () => 0),
      ),
      cautions: [],
    };
  if (noLoadAmps === undefined || primaryOhms === undefined || primaryReactanceOhms === undefined) {
    return { allowance: null, cautions: [caution('primary-drop-not-known', notKnown(input, primaryTurns))] };
  }
  const tree = { readings: bench.readings, noLoadAmps, primaryOhms, primaryReactanceOhms };
  const allowance = propagate(tree, (values) => {
    const volts = values.readings.reduce((sum, each) => sum + primaryVolts(each), 0) / values.readings.length;
    return (primaryTurns * values.noLoadAmps * Math.hypot(values.primaryOhms, values.primaryReactanceOhms)) / volts;
  });
  const why =
    noLoadWatts === undefined
      ? 'the no-load watts are not known'
      : 'the readings were taken at different volts, and the no-load current belongs to one of them';
  const text =
    `The primary's own drop is not corrected, since ${why}: the count may be too high by up to ` +
    `${formatNumber(allowance.value, 2)} turns, beyond its uncertainty.`;
  return { allowance: physical('turns', allowance), cautions: [caution('primary-drop-not-corrected', text)] };
}

function notKnown({ noLoadAmps, primaryOhms, readings }: TestCoilInput, primaryTurns: number): string {
  const general =
    "The primary's own drop makes a coil read low and the count come out high. Its size is not known here and is in " +
    'neither the value nor the uncertainty; at 5 to 30 % of the rated volts it nearly vanishes.';
  if (noLoadAmps === undefined || primaryOhms === undefined) return general;
  const volts = Math.max(...readings.map((reading) => reading.primaryVolts.value));
  const byResistance = (primaryTurns * noLoadAmps.value * primaryOhms.value) / volts;
  return (
    `${general} The resistance alone accounts for at most ${formatNumber(byResistance, 2)} turns; the reactance, ` +
    'usually the larger part, is missing.'
  );
}
