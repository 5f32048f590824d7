import { exact, rectangular } from '../../quantity/estimate.ts';
import type { Values } from '../../quantity/sources.ts';
import type { TestCoilInput, TestCoilReading } from './input.ts';

/** Half width of what two kinds of meter may differ on a distorted wave, relative: common practice, no source. */
const kindsDiffer = 0.01;
/** Half width of the doubt about half the flux going through an outer limb, relative: common practice, no source. */
const outerLimbDoubt = 0.05;
/** Primary volts further apart than this belong to another no-load current. */
const sameSupply = 0.05;

/** A reading with the doubts that its circumstances add to those of the meters. */
function withCircumstances(reading: TestCoilReading) {
  const { primaryVolts, primaryVoltsAfter, coilMeterKind, primaryMeterKind } = reading;
  const drift = primaryVoltsAfter === undefined ? 0 : Math.abs(primaryVoltsAfter.value - primaryVolts.value);
  const oddPair = coilMeterKind !== undefined && primaryMeterKind !== undefined && coilMeterKind !== primaryMeterKind;
  return {
    ...reading,
    /** The supply moved by so much between the readings before and after; the coil was read somewhere between. */
    supplyDrift: drift === 0 ? exact(0) : rectangular(0, drift / 2),
    meterKinds: oddPair ? rectangular(0, kindsDiffer) : exact(0),
  };
}

/** All that a turn count is made of, as one tree of estimates. */
export function benchOf(input: TestCoilInput) {
  const { noLoadAmps, noLoadWatts, primaryOhms, primaryReactanceOhms } = input;
  const volts = input.readings.map(({ primaryVolts }) => primaryVolts.value);
  const oneSupply = Math.max(...volts) <= Math.min(...volts) * (1 + sameSupply);
  const complete =
    noLoadAmps !== undefined &&
    noLoadWatts !== undefined &&
    primaryOhms !== undefined &&
    primaryReactanceOhms !== undefined;
  return {
    readings: input.readings.map(withCircumstances),
    outerLimb: input.readings.some(({ position }) => position === 'outer-limb')
      ? rectangular(0, outerLimbDoubt)
      : exact(0),
    /** Only where everything about the primary's own drop is known. */
    drop: complete && oneSupply ? { noLoadAmps, noLoadWatts, primaryOhms, primaryReactanceOhms } : null,
  };
}
export type Bench = ReturnType<typeof benchOf>;
export type BenchValues = Values<Bench>;
type ReadingValues = BenchValues['readings'][number];

/** Primary volts of a reading: the mean of before and after, moved by the drift. */
export const primaryVolts = ({ primaryVolts: before, primaryVoltsAfter: after, supplyDrift }: ReadingValues): number =>
  (before + (after ?? before)) / 2 + supplyDrift;

/**
 * What is left of the primary's volts for its e.m.f., as a fraction: |V - I0 (R1 + jX1)| / V. With the no-load power P0 and
 * reactive power Q0, |V - I0 Z1|² = V² - 2 (P0 R1 + Q0 X1) + I0² (R1² + X1²).
 */
export function electromotiveFraction(drop: NonNullable<BenchValues['drop']>, volts: number): number {
  const { noLoadAmps, noLoadWatts, primaryOhms, primaryReactanceOhms } = drop;
  const reactive = Math.sqrt(Math.max(0, (volts * noLoadAmps) ** 2 - noLoadWatts ** 2));
  const taken = 2 * (noLoadWatts * primaryOhms + reactive * primaryReactanceOhms);
  const square = volts ** 2 - taken + noLoadAmps ** 2 * (primaryOhms ** 2 + primaryReactanceOhms ** 2);
  return Math.sqrt(Math.max(0, square)) / volts;
}

/** Volts that the primary's turns share: the e.m.f. where it is known, otherwise the terminal volts. */
export function sharedVolts(bench: BenchValues, reading: ReadingValues): number {
  const volts = primaryVolts(reading);
  return bench.drop === null ? volts : volts * electromotiveFraction(bench.drop, volts);
}

/** Turns of the coil as far as the flux goes: a coil round an outer limb links half of it. */
export const linkedTurns = (bench: BenchValues, { coilTurns, position }: ReadingValues): number =>
  position === 'outer-limb' ? (coilTurns / 2) * (1 + bench.outerLimb) : coilTurns;

/** Primary turns by one reading: N = n V1 / V_coil. */
export const turnsByReading = (bench: BenchValues, reading: ReadingValues): number =>
  ((linkedTurns(bench, reading) * sharedVolts(bench, reading)) / reading.coilVolts) * (1 + reading.meterKinds);
