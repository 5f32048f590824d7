import type { Values } from '../../quantity/sources.ts';
import { exact, type Estimate } from '../../quantity/estimate.ts';
import { conductors, type Metal } from '../conductor.ts';
import { cornerFactor, turnLength } from '../window-fit/mean-turn.ts';
import type { SecondaryInput } from './input.ts';
import { voltsAtLoad } from './load.ts';
import type { WireOption } from './wire-option.ts';

/** Nobody measured it: it counts as nothing, and what it would change has no uncertainty that could be told. */
const notKnown: Estimate = { value: 0, u: null, shape: 'normal', dof: Infinity };

/** Every estimate that the volts and losses of a secondary come from. */
export function circuitOf(given: SecondaryInput) {
  const { primaryTurns, primaryVolts, primaryOhms, primaryOhmsCelsius, leakageOhms, loadAmps, celsius } = given;
  const { terminationOhms, otherPrimaryAmps, tongueMm, stackMm, innerMm, meanTurnMm } = given;
  const nothing = exact(0);
  return {
    primaryTurns,
    primaryVolts,
    primaryOhms: primaryOhms ?? notKnown,
    primaryOhmsCelsius,
    leakageOhms: leakageOhms ?? notKnown,
    terminationOhms,
    loadAmps,
    otherPrimaryAmps,
    celsius,
    limb: { tongueMm: tongueMm ?? nothing, stackMm: stackMm ?? nothing, corner: cornerFactor, innerMm },
    ...(meanTurnMm === undefined ? {} : { meanTurnMm }),
  };
}
export type Circuit = ReturnType<typeof circuitOf>;
export type CircuitValues = Values<Circuit>;

/** What is chosen and exact. */
export interface Load {
  readonly cosine: number;
  readonly sine: number;
  readonly primaryMetal: Metal;
  readonly leadsMm: number;
}

export const loadOf = ({ powerFactor, sense, primaryMetal = 'copper', leadsMm }: SecondaryInput): Load => ({
  cosine: powerFactor,
  sine: Math.sqrt(1 - powerFactor ** 2) * (sense === 'lagging' ? 1 : -1),
  primaryMetal,
  leadsMm,
});

/** One way to wind it, as far as the circuit goes. */
export interface Wound {
  readonly turns: number;
  readonly strands: number;
  readonly option: WireOption;
  /** Middle of the mean turn, from the start of the free room, in mm. */
  readonly meanMiddleMm: number;
  /** Resistance to alternating current over that to direct current. */
  readonly acFactor: number;
}

const factorAt = (metal: Metal, celsius: number, from: number) => {
  const { constantCelsius } = conductors[metal];
  return (constantCelsius + celsius) / (constantCelsius + from);
};

export const meanTurnOf = ({ meanTurnMm, limb }: CircuitValues, meanMiddleMm: number): number =>
  meanTurnMm ?? turnLength(limb, meanMiddleMm);

/** Of each strand, leads included, in m. */
export const strandMetres = (values: CircuitValues, { turns, meanMiddleMm }: Wound, { leadsMm }: Load): number =>
  (turns * meanTurnOf(values, meanMiddleMm) + leadsMm) / 1000;

/** To direct current, at the temperature of the loaded winding, in Ω. */
export const secondaryOhms = (values: CircuitValues, wound: Wound, load: Load): number =>
  ((wound.option.ohmsPerKm20 / 1000) *
    strandMetres(values, wound, load) *
    factorAt(wound.option.metal, values.celsius, 20)) /
  wound.strands;

/**
 * Everything that the circuit does at `line` times its volts: V, A, W. Other outputs' amps are taken as in step with this
 * load's; they drop volts in the resistance of the primary and in half of the leakage, which is the usual way to divide
 * it between primary and secondary (common practice).
 */
export function fedCircuit(values: CircuitValues, wound: Wound, load: Load, line = 1) {
  const ratio = wound.turns / values.primaryTurns;
  const hotPrimary = values.primaryOhms * factorAt(load.primaryMetal, values.celsius, values.primaryOhmsCelsius);
  const own = secondaryOhms(values, wound, load) * wound.acFactor;
  const resistance = own + values.terminationOhms + hotPrimary * ratio ** 2;
  const others = values.otherPrimaryAmps / values.loadAmps;
  const open = line * values.primaryVolts * ratio;
  const loaded = voltsAtLoad({
    open,
    amps: values.loadAmps,
    cosine: load.cosine,
    sine: load.sine,
    resistance: resistance + hotPrimary * ratio * others,
    reactance: values.leakageOhms * ratio * (ratio + others / 2),
  });
  return {
    open,
    loaded,
    secondaryLoss: own * values.loadAmps ** 2,
    copperLoss: resistance * values.loadAmps ** 2,
  };
}
