import { combined, linearCombination, type NamedPart, type Propagated } from '../../quantity/combine.ts';
import { fitCurve, type Stopped } from '../../quantity/curve-fit.ts';
import { exact, type Estimate } from '../../quantity/estimate.ts';
import { fitLine } from '../../quantity/line-fit.ts';
import { normalQuantile } from '../../quantity/normal.ts';
import { propagate } from '../../quantity/propagate.ts';
import { studentTQuantile } from '../../quantity/student-t.ts';

/** A reading at a time; the time is taken as exact. */
export interface TimedReading {
  readonly seconds: number;
  readonly reading: Estimate;
}

/** What a curve y = end + (start − end) exp(−t / τ) through readings tells. */
export interface Exponential {
  readonly ok: true;
  readonly end: Propagated;
  readonly start: Propagated;
  readonly timeConstant: Propagated;
  /** Any quantity that follows from the three, by its value and its slopes against end, start and time constant. */
  readonly derived: (value: number, slopes: readonly [number, number, number]) => Propagated;
  /**
   * The same with a second opinion: the errors drawn through the curve where `formula` bends within their doubt. The curve
   * itself is taken as straight in end, start and logarithm of the time constant.
   */
  readonly checked: (
    of: Propagated,
    formula: (end: number, start: number, timeConstant: number) => number,
  ) => Propagated;
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
  /** Points that tell something, less free parameters: 0 is solved exactly, so nothing is known of the doubt. */
  readonly spare: number;
  /** The scatter round the curve is far more than the readings' own uncertainty. */
  readonly isPoor: boolean;
  readonly stopped: Stopped;
}

export interface NoExponential {
  readonly ok: false;
  readonly reason: 'too-few' | 'no-curve';
}

const nameOfScatter = 'scatter of the points';

/** Time constants to begin from, geometrically, from far shorter than the run to far longer. */
const startsAt = (span: number) => Array.from({ length: 40 }, (_, step) => span * 0.02 * 1.25 ** step);
/** A time constant this many times the run is a straight line: nothing bends that could be seen. */
const straightFrom = 100;

/** The best end and start for a given time constant, as a first guess. */
function guess(points: readonly TimedReading[], fixedStart: number | undefined, timeConstant: number) {
  const decays = points.map(({ seconds, reading }) => ({ x: Math.exp(-seconds / timeConstant), y: reading.value }));
  if (fixedStart !== undefined) {
    // y − start = (end − start) (1 − e): a line through the origin.
    const { slope, residualSumOfSquares } = fitLine(
      decays.map(({ x, y }) => ({ x: 1 - x, y: y - fixedStart })),
      'origin',
    );
    return { end: fixedStart + slope, start: fixedStart, residualSumOfSquares };
  }
  const { intercept, slope, residualSumOfSquares } = fitLine(decays);
  return { end: intercept, start: intercept + slope, residualSumOfSquares };
}

/** Where less than this of the way is left, a reading tells of the end alone. */
const leastLeft = 1e-3;

/** With more points the errors are not drawn: there is no time to, and the doubt is small. */
const mostChecked = 80;

/** Sum of squares in units of u over its degrees of freedom, from which stated uncertainties cannot be right. */
const poorFrom = 4;

/**
 * Fits end, time constant and, unless it is fixed, start by least squares. Readings that all state an uncertainty weigh by
 * it; their parts, shared ones included, go through to the results. The scatter takes their place where none is stated,
 * and is added where it is far more than what is stated.
 */
export function fitExponential(points: readonly TimedReading[], fixedStart?: Estimate): Exponential | NoExponential {
  const times = new Set(points.map(({ seconds }) => seconds));
  if (fixedStart !== undefined) times.delete(0);
  const free = fixedStart === undefined ? 3 : 2;
  if (times.size < free) return { ok: false, reason: 'too-few' };
  const span = Math.max(...times) - (fixedStart === undefined ? Math.min(...times) : 0);
  const own = points.map(({ reading }) => reading.u ?? 0);
  const isWeighted = own.every((u) => u > 0);
  const weights = own.map((u) => (isWeighted ? 1 / u : 1));
  const start = fixedStart?.value;
  const first = startsAt(span)
    .map((timeConstant) => ({ timeConstant, ...guess(points, start, timeConstant) }))
    .filter(({ residualSumOfSquares }) => Number.isFinite(residualSumOfSquares))
    .reduce<(ReturnType<typeof guess> & { timeConstant: number }) | null>(
      (best, one) => (best === null || one.residualSumOfSquares < best.residualSumOfSquares ? one : best),
      null,
    );
  if (first === null) return { ok: false, reason: 'no-curve' };
  const curve = ([end = NaN, logTau = NaN, begin = start ?? NaN]: readonly number[]) =>
    points.map(({ seconds }) => end + (begin - end) * Math.exp(-seconds / Math.exp(logTau)));
  const fit = fitCurve(
    (parameters) => {
      const predicted = curve(parameters);
      return points.map(({ reading }, i) => (weights[i] ?? 1) * (reading.value - (predicted[i] ?? NaN)));
    },
    [first.end, Math.log(first.timeConstant), ...(start === undefined ? [first.start] : [])],
  );
  const [end = NaN, logTau = NaN, begin = start ?? NaN] = fit?.parameters ?? [];
  const timeConstant = Math.exp(logTau);
  if (fit === null || fit.stopped !== 'converged' || !(timeConstant < straightFrom * span) || !Number.isFinite(end)) {
    return { ok: false, reason: 'no-curve' };
  }
  // A level line fits any time constant, and one that is over before the second reading tells no other.
  const from = fixedStart === undefined ? Math.min(...times) : 0;
  const telling = [...times].filter((seconds) => Math.exp((from - seconds) / timeConstant) > leastLeft);
  if (begin === end || telling.length < free - 1) return { ok: false, reason: 'no-curve' };
  const dof = points.length - free;
  const predicted = curve(fit.parameters);
  const residuals = points.map(({ reading }, i) => reading.value - (predicted[i] ?? NaN));
  const variance = dof > 0 ? fit.residualSumOfSquares / dof : 0;
  const isStated = points.some(({ reading }) => reading.u !== null && (reading.u > 0 || (reading.shared?.u ?? 0) > 0));
  const isPoor = isWeighted && dof > 0 && variance > poorFrom;
  const needsScatter = dof > 0 && (!isStated || isPoor || !isWeighted);
  const spare = times.size - free;
  const isUnknown = spare === 0 || points.some(({ reading }) => reading.u === null);
  const parameterBy = (k: number, i: number) => (fit.sensitivities[k]?.[i] ?? 0) * (weights[i] ?? 1);

  /** Parts of a quantity with these slopes against end, log time constant and start. */
  function parts(slopes: readonly number[]): NamedPart[] {
    const bySlopes = (of: (k: number) => number) => slopes.reduce((sum, slope, k) => sum + slope * of(k), 0);
    const stated = points.map(({ reading }, i) => {
      const sensitivity = bySlopes((k) => parameterBy(k, i));
      return linearTerm(`points.${i}`, sensitivity, reading);
    });
    const scatter = Math.sqrt(
      Math.max(
        0,
        bySlopes((a) => bySlopes((b) => fit?.covariance[a]?.[b] ?? 0)),
      ) * variance,
    );
    // A fixed start moves every prediction by its own decay.
    const byStart = bySlopes((k) =>
      points.reduce((sum, { seconds }, i) => sum - parameterBy(k, i) * Math.exp(-seconds / timeConstant), 0),
    );
    const fixed = fixedStart === undefined ? [] : [linearTerm('startCelsius', byStart + (slopes[2] ?? 0), fixedStart)];
    const { budget } = linearCombination([...stated, ...fixed]);
    return [
      ...budget,
      ...(needsScatter && scatter > 0 ? [{ input: nameOfScatter, u: scatter, shape: 'normal', dof } as const] : []),
    ];
  }

  const scatterOfOne = needsScatter ? Math.sqrt(variance) * (studentTQuantile(0.975, dof) / normalQuantile(0.975)) : 0;
  function checked(of: Propagated, formula: (end: number, start: number, timeConstant: number) => number): Propagated {
    if (of.u === null || points.length > mostChecked) return of;
    const errors = {
      readings: points.map(({ reading }): Estimate => ({ ...reading, value: 0 })),
      scatter: points.map((): Estimate => ({ ...exact(0), u: scatterOfOne })),
      start: fixedStart === undefined ? exact(0) : { ...fixedStart, value: 0 },
    };
    const { rough, drawn } = propagate(errors, (each) => {
      const moved = (k: number) =>
        points.reduce((sum, { seconds }, i) => {
          const reading = (each.readings[i] ?? 0) - each.start * Math.exp(-seconds / timeConstant);
          return sum + parameterBy(k, i) * reading + (fit?.sensitivities[k]?.[i] ?? 0) * (each.scatter[i] ?? 0);
        }, 0);
      const movedStart = fixedStart === undefined ? begin + moved(2) : begin + each.start;
      return formula(end + moved(0), movedStart, Math.exp(logTau + moved(1)));
    });
    return { ...of, rough, ...(drawn === undefined ? {} : { drawn }) };
  }

  const derived = (value: number, [byEnd, byStart, byTau]: readonly [number, number, number]) =>
    combined(value, parts([byEnd, byTau * timeConstant, byStart]), { isUnknown });
  return {
    ok: true,
    end: derived(end, [1, 0, 0]),
    start: fixedStart === undefined ? derived(begin, [0, 1, 0]) : linearTerm('startCelsius', 1, fixedStart).of,
    timeConstant: checked(derived(timeConstant, [0, 0, 1]), (_end, _start, tau) => tau),
    derived,
    checked,
    residuals,
    residualSumOfSquares: residuals.reduce((sum, each) => sum + each * each, 0),
    spare,
    isPoor,
    stopped: fit.stopped,
  };
}

/** One estimate as a term of a sum, with its own and its shared part. */
export function linearTerm(input: string, factor: number, { value, u, shape, dof, shared }: Estimate) {
  const parts: readonly NamedPart[] = [
    ...(u !== null && u > 0 ? [{ input, u, shape, dof }] : []),
    ...(shared !== undefined && shared.u > 0
      ? [{ input: `shared:${shared.id}`, u: shared.u, shape: exact(0).shape, dof: Infinity }]
      : []),
  ];
  return { factor, of: combined(value, parts, { isUnknown: u === null }) };
}
