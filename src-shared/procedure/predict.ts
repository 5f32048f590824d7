import { fitLine } from '../quantity/line-fit.ts';

/** A temperature at one time. */
export interface Warming {
  readonly atMs: number;
  readonly value: number;
}

/** When a rising channel will pass a limit if it goes on as in the last minutes. */
export interface Prediction {
  readonly limit: number;
  readonly inMs: number;
}

/** The stretch that is looked at, and the least of it that tells anything. */
const overMs = 300_000;
const atLeastMs = 60_000;
const fewestReadings = 4;
/** A slope has to be this many times its own scatter. */
const clearly = 3;
/** Further ahead than this a straight line means nothing. */
const notBeyondMs = 3_600_000;

/**
 * When a channel will reach its limit. The rule: a least-squares straight line through the readings of the last five
 * minutes, at least four over at least a minute; its slope must be three times its own scatter, and it meets the limit
 * within the hour. What warms up slows down on its way, so the line comes early rather than late. Null when it is not
 * rising, is there already, or nothing can be told. Common practice, no source.
 * @param readings - oldest first
 */
export function predictCrossing(readings: readonly Warming[], limit: number, nowMs: number): Prediction | null {
  const recent = readings.filter(({ atMs }) => atMs >= nowMs - overMs && atMs <= nowMs);
  const [first, last] = [recent[0], recent.at(-1)];
  if (first === undefined || last === undefined || recent.length < fewestReadings) return null;
  if (last.atMs - first.atMs < atLeastMs || last.value >= limit) return null;
  const { slope, intercept, slopeVariance, residualVariance } = fitLine(
    recent.map(({ atMs, value }) => ({ x: atMs - nowMs, y: value })),
  );
  if (slope <= 0 || slope < clearly * Math.sqrt(slopeVariance * residualVariance)) return null;
  const inMs = (limit - intercept) / slope;
  return inMs > 0 && inMs <= notBeyondMs ? { limit, inMs } : null;
}
