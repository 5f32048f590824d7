import { linearCombination, type Propagated } from '../../quantity/combine.ts';
import { propagate } from '../../quantity/propagate.ts';
import { turnsByReading, type Bench, type BenchValues } from './bench.ts';
import type { TestCoilReading } from './input.ts';

/** One independent look at the turns: a reading, or two with the meters exchanged between them. */
export interface Observation {
  /** Indices of its readings, one or two. */
  readonly readings: readonly [number] | readonly [number, number];
  readonly coilTurns: number;
  /** Weight in the mean; the weights of all add up to 1. */
  readonly weight: number;
  /** Logarithm of the primary turns by this observation alone. */
  readonly log: Propagated;
}

/** An observation before its uncertainty was looked at. */
type Unweighed = Omit<Observation, 'weight' | 'log'>;

/** Pairs each exchanged reading with the first free straight one of the same coil; the rest stand alone. */
export function pairUp(readings: readonly TestCoilReading[]): Unweighed[] {
  const free = new Set(readings.flatMap(({ swapped }, index) => (swapped ? [] : [index])));
  const partnerOf = new Map<number, number>();
  readings.forEach((exchanged, index) => {
    if (!exchanged.swapped) return;
    const partner = [...free].find((other) => isSameCoil(readings[other], exchanged));
    if (partner === undefined) return;
    free.delete(partner);
    partnerOf.set(index, partner);
  });
  const taken = new Set(partnerOf.values());
  return readings.flatMap((reading, index): Unweighed[] => {
    if (taken.has(index)) return [];
    const partner = partnerOf.get(index);
    const { coilTurns } = reading;
    return [{ readings: partner === undefined ? [index] : [partner, index], coilTurns }];
  });
}

const isSameCoil = (a: TestCoilReading | undefined, b: TestCoilReading) =>
  a?.coilTurns === b.coilTurns && a.position === b.position;

/** Primary turns by one observation: of a pair, the geometric mean, in which the gains of both meters cancel. */
export const turnsBy = (bench: BenchValues, { readings }: Pick<Observation, 'readings'>): number =>
  readings.reduce((product, index) => {
    const reading = bench.readings[index];
    return reading === undefined ? NaN : product * turnsByReading(bench, reading) ** (1 / readings.length);
  }, 1);

/** Weighted geometric mean of the turns by some observations. */
export function meanTurns(bench: BenchValues, observations: readonly Observation[]): number {
  const whole = observations.reduce((sum, { weight }) => sum + weight, 0);
  return observations.reduce((product, each) => product * turnsBy(bench, each) ** (each.weight / whole), 1);
}

/**
 * Weighs observations by their variance, shared parts included, so that a pair whose gains cancel outweighs a single
 * reading whose gain does not. Where no uncertainty is known all weigh the same; exact ones outweigh doubtful ones.
 */
export function weigh(bench: Bench, unweighed: readonly Unweighed[]): Observation[] {
  const logs = unweighed.map((each) => propagate(bench, (values) => Math.log(turnsBy(values, each))));
  const doubts = logs.map(({ u }) => u);
  const raw = doubts.map((u) => {
    if (u === null || doubts.includes(null)) return 1;
    if (doubts.includes(0)) return u === 0 ? 1 : 0;
    return u ** -2;
  });
  const whole = raw.reduce((sum, weight) => sum + weight, 0);
  return unweighed.flatMap((each, index) => {
    const log = logs[index];
    return log === undefined ? [] : [{ ...each, log, weight: (raw[index] ?? 0) / whole }];
  });
}

/** How far an observation lies from the mean of others, as the logarithm of the ratio, with its uncertainty. */
export function distanceFrom(observation: Observation, others: readonly Observation[]): Propagated {
  const whole = others.reduce((sum, { weight }) => sum + weight, 0);
  return linearCombination([
    { factor: 1, of: observation.log },
    ...others.map(({ log, weight }) => ({ factor: -weight / whole, of: log })),
  ]);
}
