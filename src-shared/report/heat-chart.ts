import * as v from 'valibot';
import { classCelsius, insulationClasses } from '../calculation/insulation-class.ts';
import { fitExponential, type Exponential } from '../calculation/heating/exponential.ts';
import type { Chart, Level, Mark } from '../chart/chart.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { formatEstimate, formatNumber } from '../quantity/format.ts';
import type { Result, Run } from '../record/run.ts';
import { simulatedTimeWords } from '../record/run-time.ts';
import { KeptQuantity } from './read-answer.ts';

const number = v.pipe(v.number(), v.finite());
const Measured = v.union([
  number,
  v.looseObject({
    value: number,
    u: v.nullish(number),
    shared: v.nullish(v.looseObject({ id: v.string(), u: number })),
  }),
]);

const HeatInput = v.looseObject({
  points: v.array(v.looseObject({ seconds: number, celsius: Measured })),
  startCelsius: v.optional(Measured),
  limitCelsius: v.optional(number),
  insulationClass: v.optional(v.picklist(insulationClasses)),
});
const HeatOutput = v.looseObject({
  results: v.looseObject({ finalCelsius: KeptQuantity, secondsToLimit: v.nullish(KeptQuantity) }),
});

function estimate(measured: v.InferOutput<typeof Measured>): Estimate {
  if (typeof measured === 'number') return { value: measured, u: 0, shape: 'normal', dof: Infinity };
  const { value, u = null, shared } = measured;
  return { value, u, shape: 'normal', dof: Infinity, ...(shared === null || shared === undefined ? {} : { shared }) };
}

const steps = 160;

/** The fitted curve from the start of power to `toSeconds`, and as far as it is known, the 95 % band around it. */
function fitted({ end, start, timeConstant, derived }: Exponential, toSeconds: number) {
  const tau = timeConstant.value;
  return Array.from({ length: steps + 1 }, (_, step) => {
    const seconds = (toSeconds * step) / steps;
    const decay = Math.exp(-seconds / tau);
    const value = end.value + (start.value - end.value) * decay;
    const byTau = ((start.value - end.value) * decay * seconds) / tau ** 2;
    const { u, k } = derived(value, [1 - decay, decay, byTau]);
    return { x: seconds * 1000, value, half: u === null ? null : k * u };
  });
}

/**
 * A kept heat run: its points, the fitted curve with the 95 % band of its value, where it settles, the limit and when it
 * is reached. `run` is the one that it is kept of: its time may be simulated. Null when the result is not one, or holds no curve any more.
 */
export function heatChart(result: Result, run: Pick<Run, 'timeFactor'>): Chart | null {
  if (result.calculation !== 'heat-run') return null;
  const input = v.safeParse(HeatInput, result.input);
  const output = v.safeParse(HeatOutput, result.output);
  if (!input.success || !output.success) return null;
  const { points, startCelsius, limitCelsius, insulationClass } = input.output;
  const { finalCelsius, secondsToLimit } = output.output.results;
  const readings = points.map(({ seconds, celsius }) => ({ seconds, reading: estimate(celsius) }));
  const fit = fitExponential(readings, startCelsius === undefined ? undefined : estimate(startCelsius));
  if (!fit.ok) return null;

  const lastSeconds = Math.max(...points.map(({ seconds }) => seconds));
  const reaches = secondsToLimit?.value ?? 0;
  const toSeconds = Math.max(lastSeconds * 1.3, reaches < 5 * lastSeconds ? reaches * 1.05 : 0);
  const curve = fitted(fit, toSeconds);
  const known = curve.flatMap(({ x, value, half }) =>
    half === null ? [] : [{ x, low: value - half, high: value + half }],
  );
  const limit = insulationClass === undefined ? limitCelsius : classCelsius[insulationClass];
  const level = (kind: Level['kind'], value: number, word: string): Level => ({
    kind,
    unit: '°C',
    value,
    word,
    fromX: null,
    toX: null,
  });
  const reached: readonly Mark[] =
    secondsToLimit === null || secondsToLimit === undefined
      ? []
      : [{ kind: 'point', x: secondsToLimit.value * 1000, word: `limit after ${minutes(secondsToLimit)}` }];
  return {
    title: 'Temperature and where it settles',
    xAxis: { kind: 'time', said: simulatedTimeWords(run) },
    fromX: 0,
    toX: toSeconds * 1000,
    curves: [
      {
        id: 'fit',
        label: 'One exponential',
        unit: '°C',
        ink: 'copper',
        dash: 'dotted',
        form: 'line',
        x: curve.map(({ x }) => x),
        y: curve.map(({ value }) => value),
      },
      {
        id: 'points',
        label: 'Readings',
        unit: '°C',
        ink: 'copper',
        dash: 'solid',
        form: 'points',
        x: points.map(({ seconds }) => seconds * 1000),
        y: readings.map(({ reading }) => reading.value),
      },
    ],
    bands: known.length < curve.length ? [] : [bandOf(known)],
    levels: [
      level('value', finalCelsius.value, `settles at ${formatEstimate(finalCelsius)}`),
      ...(limit === undefined ? [] : [level('limit', limit, `limit ${formatNumber(limit, 4)} °C`)]),
    ],
    marks: reached,
  };
}

const minutes = ({ value, u }: { readonly value: number; readonly u: number | null }): string =>
  formatEstimate({ value: value / 60, u: u === null ? null : u / 60, unit: 'min' });

const bandOf = (known: readonly { readonly x: number; readonly low: number; readonly high: number }[]) => ({
  label: '95 % band of the curve',
  unit: '°C',
  ink: 'copper' as const,
  x: known.map(({ x }) => x),
  low: known.map(({ low }) => low),
  high: known.map(({ high }) => high),
});
