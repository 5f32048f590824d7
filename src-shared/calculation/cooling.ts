import type * as v from 'valibot';
import { linearCombination } from '../quantity/combine.ts';
import { exact, type Estimate } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, list, measured, optional, plainNumber } from './field.ts';
import { fitExponential, linearTerm } from './heating/exponential.ts';

const input = group({
  points: list(
    group({
      seconds: plainNumber({ label: 'Time after switch-off', unit: 's', above: 0, atMost: 1e7 }),
      ohms: optional(measured({ label: 'Resistance', unit: 'Ω', above: 0, atMost: 1e9 })),
      celsius: optional(measured({ label: 'Temperature', unit: '°C', atLeast: -100, atMost: 2000 })),
    }),
    { label: 'Points, each in ohms or all in °C', atLeast: 3, atMost: 1000 },
  ),
  switchOffSeconds: optional(
    measured({
      label: 'Instant of switch-off on the same clock',
      unit: 's',
      atLeast: -1e7,
      atMost: 1e7,
      help: 'Left out: 0 exactly. A mark by hand is good to half a second or so.',
    }),
  ),
});
type CoolingInput = v.InferOutput<typeof input>;

export interface CoolingResults {
  /** Resistance or temperature at the instant of switch-off, as the points were given. */
  readonly atSwitchOff: PhysicalResult;
  readonly timeConstant: PhysicalResult;
  /** In the unit of the points. */
  readonly rmsResidual: number;
}

/** For this size the first reading is to be had within this time (IEC 60034-1). */
const firstWithin = 30;

/** The points in the one unit that all of them have; the index of the first that differs. */
function readings({ points }: CoolingInput) {
  const unit = points[0]?.ohms === undefined ? '°C' : 'Ω';
  const found: { readonly seconds: number; readonly reading: Estimate }[] = [];
  for (const [index, { seconds, ohms, celsius }] of points.entries()) {
    const [reading, other] = unit === 'Ω' ? [ohms, celsius] : [celsius, ohms];
    if (reading === undefined || other !== undefined) return { unit, found, odd: index };
    found.push({ seconds, reading });
  }
  return { unit, found, odd: null };
}

function run(given: CoolingInput) {
  const { unit, found, odd } = readings(given);
  if (odd !== null) {
    const path = `points.${odd}.${unit === 'Ω' ? 'ohms' : 'celsius'}`;
    return refuse('conflict', 'Give every point in ohms, or every point in °C.', path);
  }
  const fit = fitExponential(found);
  if (!fit.ok) {
    const message =
      fit.reason === 'too-few'
        ? 'Three points at three times are the least.'
        : 'The points show no curve that a time constant could be found from.';
    return refuse('not-determined', message, 'points');
  }
  const mark = given.switchOffSeconds ?? exact(0);
  const tau = fit.timeConstant.value;
  const decay = Math.exp(-mark.value / tau);
  const span = fit.start.value - fit.end.value;
  const value = fit.end.value + span * decay;
  if (!Number.isFinite(value)) {
    return refuse('outside-validity', 'The instant of switch-off lies too far before the points.', 'switchOffSeconds');
  }
  const curve = fit.derived(value, [1 - decay, decay, (span * decay * mark.value) / tau ** 2]);
  const slope = (-span * decay) / tau;
  // The mark moves the value by the slope there; its own value is already in the curve.
  const byMark = linearTerm('switchOffSeconds', slope, { ...mark, value: 0 });
  const atSwitchOff = linearCombination([{ factor: 1, of: curve }, byMark]);
  const results: CoolingResults = {
    atSwitchOff: physical(unit, atSwitchOff),
    timeConstant: physical('s', fit.timeConstant),
    rmsResidual: Math.sqrt(fit.residualSumOfSquares / found.length),
  };
  const n = (each: number) => formatNumber(each, 6);
  const first = Math.min(...found.map(({ seconds }) => seconds)) - mark.value;
  const cautions: readonly Caution[] = [
    ...(first > firstWithin
      ? [
          caution(
            'first-too-late',
            `The first reading came ${n(first)} s after switch-off: over 30 s it leans on the curve alone.`,
          ),
        ]
      : []),
    ...(fit.spare === 0
      ? [caution('solved-exactly', 'As many points as unknowns: solved exactly, so nothing is known of the doubt.')]
      : []),
    ...(fit.isPoor ? [caution('poor-fit', 'The points lie off the curve by far more than their uncertainty.')] : []),
    caution(
      'two-bodies',
      'A winding first gives its heat to the iron, quickly, then both cool slowly: one curve fits only one of the two.',
    ),
  ];
  const model = 'y = A + (y0 − A) e^(−t/τ)';
  return worked(
    results,
    [
      line('A', model, `least squares, ${found.length} points`, fit.end.value, unit),
      line('τ', model, `least squares, ${found.length} points`, tau, 's'),
      line(
        'y0',
        'A + (y(0) − A) e^(−toff/τ)',
        `${n(fit.end.value)} + ${n(span)} × e^(−${n(mark.value)} / ${n(tau)})`,
        value,
        unit,
      ),
    ],
    cautions,
  );
}

export const cooling = defineCalculation({
  name: 'cooling',
  title: 'Back to the instant of switch-off',
  version: 1,
  sources: ['Extrapolation of a cooling curve to switch-off: IEC 60076-2:2011; first reading within 30 s: IEC 60034-1'],
  input,
  example: {
    points: [
      { seconds: 22, ohms: { value: 0.5231, u: 0.0004 } },
      { seconds: 40, ohms: { value: 0.5198, u: 0.0004 } },
      { seconds: 70, ohms: { value: 0.5152, u: 0.0004 } },
      { seconds: 120, ohms: { value: 0.5097, u: 0.0004 } },
      { seconds: 200, ohms: { value: 0.5049, u: 0.0004 } },
      { seconds: 320, ohms: { value: 0.5021, u: 0.0004 } },
    ],
    switchOffSeconds: { value: 0, u: 0.5 },
  },
  run,
});
