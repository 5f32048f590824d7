import type { Propagated } from '../../quantity/combine.ts';
import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import { caution, physical, withoutUncertainty, type Caution, type PhysicalResult } from '../answer.ts';
import { linkedTurns, type Bench, type BenchValues } from './bench.ts';
import { turnsBy, type Observation } from './observation.ts';

/** A straight line through coils of different turns that need not pass through zero. */
export interface OffsetFit {
  /** What the coils seem to have besides the turns that were counted: 0.5 for a half turn. */
  readonly offsetTurns: PhysicalResult;
  /** Primary turns by the slope alone. */
  readonly primaryTurnsBySlope: PhysicalResult;
}

/** With exact readings there is no uncertainty to judge an offset by: half of a half turn is worth a word. */
const worthAWord = 0.25;

/**
 * Least squares of the voltage ratio against the coil's turns, ratio = (n + offset) / N, weighed by the observations'
 * weights. Null with fewer than three different coils: two are always on one line.
 */
export function fitOffset(bench: Bench, observations: readonly Observation[]): OffsetFit | null {
  if (new Set(observations.map(({ coilTurns }) => coilTurns)).size < 3) return null;
  const offset = propagate(bench, (values) => lineThrough(values, observations).offsetTurns);
  const bySlope = propagate(bench, (values) => lineThrough(values, observations).turns);
  return { offsetTurns: inTurns(offset), primaryTurnsBySlope: inTurns(bySlope) };
}

/** Readings given as exact say nothing about the doubt of a line through them. */
const inTurns = (fitted: Propagated) =>
  fitted.u === 0 ? withoutUncertainty('turns', fitted.value) : physical('turns', fitted);

function lineThrough(values: BenchValues, observations: readonly Observation[]) {
  const points = observations.map((each) => {
    const reading = values.readings[each.readings[0]];
    const x = reading === undefined ? NaN : linkedTurns(values, reading);
    const y = x / turnsBy(values, each);
    // The weight is that of ln(N), so of the relative error of y; a plain fit needs that of the absolute one.
    return { x, y, weight: each.weight / y ** 2 };
  });
  const sum = (of: (point: (typeof points)[number]) => number) =>
    points.reduce((total, point) => total + point.weight * of(point), 0);
  const whole = sum(() => 1);
  const [meanX, meanY] = [sum(({ x }) => x) / whole, sum(({ y }) => y) / whole];
  const slope = sum(({ x, y }) => (x - meanX) * (y - meanY)) / sum(({ x }) => (x - meanX) ** 2);
  return { turns: 1 / slope, offsetTurns: meanY / slope - meanX };
}

/** A word where the offset cannot be chance. */
export function offsetCautions(fit: OffsetFit | null): readonly Caution[] {
  if (fit === null) return [];
  const { value, u, interval95 } = fit.offsetTurns;
  const isPlain = u === null || interval95 === null ? Math.abs(value) > worthAWord : interval95[0] * interval95[1] > 0;
  if (!isPlain) return [];
  return [
    caution(
      'offset',
      `The coils agree better with ${formatNumber(value, 2)} turns more than were counted on each: a half turn (a lead ` +
        'that leaves on the far side) or a meter that does not read zero.',
    ),
  ];
}
