import type * as v from 'valibot';
import { linearCombination, type Propagated } from '../quantity/combine.ts';
import { formatNumber } from '../quantity/format.ts';
import type { Stopped } from '../quantity/curve-fit.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, list, measured, optional, plainNumber } from './field.ts';
import { fitExponential, linearTerm, type Exponential } from './heating/exponential.ts';
import { classCelsius, insulationClasses } from './insulation-class.ts';

const celsius = { unit: '°C', atLeast: -100, atMost: 2000 } as const;

const input = group({
  points: list(
    group({
      seconds: plainNumber({ label: 'Time from power on', unit: 's', atLeast: 0, atMost: 1e7 }),
      celsius: measured({ label: 'Temperature', ...celsius }),
    }),
    { label: 'Points', atLeast: 2, atMost: 1000 },
  ),
  ambientCelsius: optional(
    measured({ label: 'Ambient', ...celsius, help: 'The mean of the last quarter of the run (IEC 60034-1).' }),
  ),
  startCelsius: optional(measured({ label: 'Temperature at the start', ...celsius, help: 'Left out: fitted too.' })),
  limitCelsius: optional(plainNumber({ label: 'Limit', ...celsius })),
  insulationClass: optional(
    choice(insulationClasses, {
      label: 'Class of the insulation',
      help: 'By IEC 60085: its temperature is the limit.',
    }),
  ),
});
type HeatInput = v.InferOutput<typeof input>;

export interface HeatRunResults {
  /** Where the temperature would end if the run went on for ever. */
  readonly finalCelsius: PhysicalResult;
  readonly finalRise?: PhysicalResult;
  readonly timeConstant: PhysicalResult;
  readonly startCelsius: PhysicalResult;
  /** In K, over all points. */
  readonly rmsResidual: number;
  /** In K². */
  readonly residualSumOfSquares: number;
  /** From power on; null where the limit is never reached, or was passed at the start. Only with a limit. */
  readonly secondsToLimit?: PhysicalResult | null;
  /** No more than 1 K of change in the last half hour; null where the run is shorter. */
  readonly steady: boolean | null;
  readonly stopped: Stopped;
}

/** IEC 60034-1: not over 1 K per half hour. */
const steadySeconds = 1800;
const steadyKelvin = 1;

function steadiness(points: HeatInput['points']): boolean | null {
  const last = Math.max(...points.map(({ seconds }) => seconds));
  if (Math.min(...points.map(({ seconds }) => seconds)) > last - steadySeconds) return null;
  const recent = points.filter(({ seconds }) => seconds >= last - steadySeconds).map((each) => each.celsius.value);
  if (recent.length < 2) return null;
  return Math.max(...recent) - Math.min(...recent) <= steadyKelvin;
}

/** When the curve passes the limit, with its slopes; null when it never does from here on. */
function timeToLimit({ end, start, timeConstant, derived, checked }: Exponential, limit: number): Propagated | null {
  const [toEnd, fromStart] = [limit - end.value, start.value - end.value];
  const part = toEnd / fromStart;
  if (!(part > 0 && part < 1)) return null;
  const tau = timeConstant.value;
  // t = τ ln((θ0 − θf) / (θL − θf))
  const first = derived(-tau * Math.log(part), [tau / toEnd - tau / fromStart, tau / fromStart, -Math.log(part)]);
  return checked(first, (final, begin, each) => {
    const left = (limit - final) / (begin - final);
    return left > 0 ? -each * Math.log(left) : Infinity;
  });
}

function cautionsOf(given: HeatInput, found: Exponential, limit: number | undefined): readonly Caution[] {
  const lasted = Math.max(...given.points.map(({ seconds }) => seconds));
  const taus = lasted / found.timeConstant.value;
  return [
    ...(found.spare === 0
      ? [caution('solved-exactly', 'As many points as unknowns: solved exactly, so nothing is known of the doubt.')]
      : []),
    ...(found.isPoor
      ? [
          caution(
            'poor-fit',
            'The points lie off the curve by far more than their uncertainty: two bodies, a changed supply or a draught.',
          ),
        ]
      : []),
    ...(taus < 1
      ? [caution('too-early', 'The run is shorter than one time constant: do not rely on the final value.')]
      : []),
    ...(taus >= 1 && taus < 2
      ? [caution('early', 'The run is shorter than two time constants: the final value may move yet.')]
      : []),
    ...(limit !== undefined && found.end.value > limit
      ? [caution('over-limit', 'Left on, it would pass the limit.')]
      : []),
    caution(
      'one-body',
      'One body of one temperature is assumed; the hottest spot of a winding is some 10 to 15 K over its surface (common practice).',
    ),
  ];
}

function run(given: HeatInput) {
  const { points, ambientCelsius, startCelsius, limitCelsius, insulationClass } = given;
  if (limitCelsius !== undefined && insulationClass !== undefined) {
    return refuse('conflict', 'Give the limit or the class, not both.', 'insulationClass');
  }
  const limit = insulationClass === undefined ? limitCelsius : classCelsius[insulationClass];
  const found = fitExponential(
    points.map((each) => ({ seconds: each.seconds, reading: each.celsius })),
    startCelsius,
  );
  if (!found.ok) {
    const message =
      found.reason === 'too-few'
        ? 'There are fewer points that tell something than unknowns: take more, at other times.'
        : 'The points show no curve that a time constant could be found from: go on with the run.';
    return refuse('not-determined', message, 'points');
  }
  const { end, start, timeConstant, residualSumOfSquares, stopped } = found;
  const rise =
    ambientCelsius === undefined
      ? null
      : linearCombination([{ factor: 1, of: end }, linearTerm('ambientCelsius', -1, ambientCelsius)]);
  const toLimit = limit === undefined ? null : timeToLimit(found, limit);
  const results: HeatRunResults = {
    finalCelsius: physical('°C', end),
    ...(rise === null ? {} : { finalRise: physical('K', rise) }),
    timeConstant: physical('s', timeConstant),
    startCelsius: physical('°C', start),
    rmsResidual: Math.sqrt(residualSumOfSquares / points.length),
    residualSumOfSquares,
    ...(limit === undefined ? {} : { secondsToLimit: toLimit === null ? null : physical('s', toLimit) }),
    steady: steadiness(points),
    stopped,
  };
  const n = (value: number) => formatNumber(value, 6);
  const curve = 'θ = θf + (θ0 − θf) e^(−t/τ)';
  return worked(
    results,
    [
      line('θf', curve, `least squares, ${points.length} points`, end.value, '°C'),
      line('τ', curve, `least squares, ${points.length} points`, timeConstant.value, 's'),
      line(
        'θ0',
        startCelsius === undefined ? curve : 'as given',
        startCelsius === undefined ? 'least squares' : n(start.value),
        start.value,
        '°C',
      ),
      ...(rise === null
        ? []
        : [line('Δθ', 'θf − θa', `${n(end.value)} − ${n(ambientCelsius?.value ?? 0)}`, rise.value, 'K')]),
      ...(toLimit === null || limit === undefined
        ? []
        : [
            line(
              't',
              'τ ln((θ0 − θf) / (θL − θf))',
              `${n(timeConstant.value)} × ln((${n(start.value)} − ${n(end.value)}) / (${n(limit)} − ${n(end.value)}))`,
              toLimit.value,
              's',
            ),
          ]),
    ],
    cautionsOf(given, found, limit),
  );
}

export const heatRun = defineCalculation({
  name: 'heat-run',
  title: 'Where a heat run will end',
  version: 1,
  sources: [
    'Heating of one body: Theraja, A Textbook of Electrical Technology, vol. III, ch. 45',
    'Steady at 1 K per half hour: IEC 60034-1; classes: IEC 60085:2007, Table 1',
  ],
  input,
  example: {
    points: [
      { seconds: 0, celsius: { value: 21.2, u: 0.3 } },
      { seconds: 900, celsius: { value: 34.5, u: 0.3 } },
      { seconds: 1800, celsius: { value: 44.1, u: 0.3 } },
      { seconds: 3600, celsius: { value: 56.9, u: 0.3 } },
      { seconds: 5400, celsius: { value: 63.7, u: 0.3 } },
      { seconds: 7200, celsius: { value: 67.6, u: 0.3 } },
    ],
    ambientCelsius: { value: 21.5, u: 0.4 },
    limitCelsius: 60,
  },
  run,
});
