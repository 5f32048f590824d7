import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import {
  caution,
  line,
  physical,
  refuse,
  worked,
  type Caution,
  type PhysicalResult,
  type WorkingLine,
} from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { conductors, metals } from './conductor.ts';
import { choice, group, measured, optional } from './field.ts';

const seconds = { unit: 's', above: 0, atMost: 1e8 } as const;

const input = group({
  finalRise: measured({ label: 'Rise if left on for ever', unit: 'K', above: 0, atMost: 1e6 }),
  timeConstant: measured({ label: 'Time constant of heating', ...seconds }),
  coolingTimeConstant: optional(
    measured({ label: 'Time constant of cooling', help: 'Left out: as heating.', ...seconds }),
  ),
  limitRise: measured({ label: 'Rise allowed', unit: 'K', above: 0, atMost: 1e6 }),
  onSeconds: optional(measured({ label: 'On', ...seconds })),
  offSeconds: optional(measured({ label: 'Off', ...seconds })),
  currentDensity: optional(measured({ label: 'Current density of the winding', unit: 'A/mm²', above: 0, atMost: 1e4 })),
  metal: optional(choice(metals, { label: 'Metal of the winding' })),
});
type DutyInput = v.InferOutput<typeof input>;
type Each = Values<DutyInput>;

export interface DutyResults {
  /** Seconds on from cold up to the limit, the winding alone counted too; null: no such time, it may stay on. */
  readonly longestOnFromCold: PhysicalResult | null;
  /** Of the winding alone, no heat leaving it; null without the current density. */
  readonly adiabaticSeconds: PhysicalResult | null;
  /** Where on and off repeated for ever peak; null unless both are given. */
  readonly peakRiseRepeating: PhysicalResult | null;
  /** What is left of the rise after the first on and off; null unless both are given. */
  readonly riseAfterFirstCycle: PhysicalResult | null;
  /** Seconds off between such ons that keep the peaks at the limit; null without the on time, or when none is enough. */
  readonly offNeeded: PhysicalResult | null;
  /** On over on and off needed; null where that is. */
  readonly dutyPercent: PhysicalResult | null;
}

const mm3PerMm2Metre = 1000;
/** K/s at 20 °C with no heat leaving (IEC 60949, adiabatic form). */
function adiabaticRate({ currentDensity = NaN, metal = 'copper' }: Each): number {
  const { resistivity20, volumeHeatCapacity } = conductors[metal];
  return (resistivity20 * currentDensity ** 2) / mm3PerMm2Metre / volumeHeatCapacity;
}

const cooling = ({ coolingTimeConstant, timeConstant }: Each) => coolingTimeConstant ?? timeConstant;
const firstPeak = ({ finalRise, onSeconds = NaN, timeConstant }: Each) =>
  -finalRise * Math.expm1(-onSeconds / timeConstant);
const left = (each: Each) => Math.exp(-(each.offSeconds ?? NaN) / cooling(each));
const warmed = ({ onSeconds = NaN, timeConstant }: Each) => Math.exp(-onSeconds / timeConstant);

/** Part of the peak that must be left after the off time, for the peaks to stand at the limit. */
const leftNeeded = (each: Each) => (each.limitRise - firstPeak(each)) / (warmed(each) * each.limitRise);
const offFor = (each: Each) => -cooling(each) * Math.log(leftNeeded(each));
const bodySeconds = (each: Each) => -each.timeConstant * Math.log1p(-each.limitRise / each.finalRise);
const windingSeconds = (each: Each) => each.limitRise / adiabaticRate(each);

function longest(given: DutyInput) {
  const body = given.finalRise.value > given.limitRise.value ? propagate(given, bodySeconds) : null;
  const winding = given.currentDensity === undefined ? null : propagate(given, windingSeconds);
  // The adiabatic time only bounds a load that would pass the limit at all.
  const longestOn = body !== null && winding !== null && winding.value < body.value ? winding : body;
  return { body, winding, longestOn };
}

function repeated(given: DutyInput) {
  if (given.onSeconds === undefined || given.offSeconds === undefined) return null;
  return {
    peak: propagate(given, (each) => firstPeak(each) / (1 - warmed(each) * left(each))),
    after: propagate(given, (each) => firstPeak(each) * left(each)),
  };
}

/** `winding`: seconds in which the winding alone reaches the limit, no heat leaving it. */
function rest(given: DutyInput, winding: number | null) {
  const { onSeconds, finalRise, limitRise, timeConstant } = given;
  if (onSeconds === undefined) return null;
  const warm = Math.exp(-onSeconds.value / timeConstant.value);
  const peak = finalRise.value * (1 - warm);
  if (finalRise.value <= limitRise.value) {
    return { off: propagate(given, () => 0), percent: propagate(given, () => 100) };
  }
  // The shorter of both holds: what the winding does not stand, no pause of the body mends.
  if (peak >= limitRise.value || (winding !== null && onSeconds.value >= winding)) return null;
  return {
    off: propagate(given, offFor),
    percent: propagate(given, (each) => (100 * (each.onSeconds ?? NaN)) / ((each.onSeconds ?? NaN) + offFor(each))),
  };
}

function cautionsOf(
  given: DutyInput,
  { longestOnFromCold: most, peakRiseRepeating: peak, adiabaticSeconds }: DutyResults,
) {
  const { currentDensity, onSeconds, limitRise } = given;
  const cautions: readonly Caution[] = [
    ...(currentDensity === undefined
      ? [
          caution(
            'winding-not-counted',
            'Without the current density the winding is not counted: a short heavy load heats it long before the iron.',
          ),
        ]
      : []),
    ...(adiabaticSeconds !== null && most !== null && adiabaticSeconds.value === most.value
      ? [caution('winding-first', 'The winding alone reaches the limit first: its bound holds.')]
      : []),
    ...(most === null ? [caution('never-reached', 'The rise allowed is never reached: by this it may stay on.')] : []),
    ...(onSeconds !== undefined && most !== null && onSeconds.value >= most.value
      ? [caution('on-too-long', 'One such on time already passes the limit: no pause is long enough.')]
      : []),
    ...(peak !== null && peak.value > limitRise.value
      ? [caution('over-limit', 'Repeated like this, it passes the limit.')]
      : []),
    caution('mean-of-the-body', 'The rise is that of one body: the hottest spot is hotter.'),
  ];
  return cautions;
}

function run(given: DutyInput) {
  if (given.currentDensity !== undefined && given.metal === undefined) {
    return refuse('missing-key', 'The current density needs the metal.', 'metal');
  }
  const { body, winding, longestOn } = longest(given);
  const cycle = repeated(given);
  const pause = rest(given, winding?.value ?? null);
  const results: DutyResults = {
    longestOnFromCold: longestOn === null ? null : physical('s', longestOn),
    adiabaticSeconds: winding === null ? null : physical('s', winding),
    peakRiseRepeating: cycle === null ? null : physical('K', cycle.peak),
    riseAfterFirstCycle: cycle === null ? null : physical('K', cycle.after),
    offNeeded: pause === null ? null : physical('s', pause.off),
    dutyPercent: pause === null ? null : physical('%', pause.percent),
  };
  const n = (value: number) => formatNumber(value, 6);
  const { finalRise, limitRise, timeConstant, onSeconds, offSeconds } = given;
  const [f, l, tau] = [finalRise, limitRise, timeConstant].map(({ value }) => n(value));
  const [on, off] = [onSeconds, offSeconds].map((each) => n(each?.value ?? 0));
  const working: readonly WorkingLine[] = [
    line('x', 'Δθlimit / Δθf', `${l} / ${f}`, limitRise.value / finalRise.value, ''),
    ...(body === null ? [] : [line('t', '−τ ln(1 − x)', `−${tau} × ln(1 − ${l} / ${f})`, body.value, 's')]),
    ...(winding === null
      ? []
      : [line('ta', 'Δθlimit c / (ρ J²)', `${l} K, ${n(given.currentDensity?.value ?? 0)} A/mm²`, winding.value, 's')]),
    ...(cycle === null
      ? []
      : [
          line(
            'Δθp',
            'Δθf (1 − a) / (1 − a b)',
            `a = e^(−${on} / ${tau}), b = e^(−${off} / τc)`,
            cycle.peak.value,
            'K',
          ),
        ]),
    ...(pause === null
      ? []
      : [
          line(
            'toff',
            '−τc ln((Δθlimit − Δθf (1 − a)) / (a Δθlimit))',
            `a = e^(−${on} / ${tau})`,
            pause.off.value,
            's',
          ),
        ]),
  ];
  return worked(results, working, cautionsOf(given, results));
}

export const duty = defineCalculation({
  name: 'duty',
  title: 'How long on, how long off',
  version: 2,
  sources: [
    'Heating and cooling of one body: Theraja, A Textbook of Electrical Technology, vol. III, ch. 45',
    'Adiabatic heating of a conductor: IEC 60949, from memory',
  ],
  input,
  example: {
    finalRise: { value: 140, u: 4 },
    timeConstant: { value: 2900, u: 100 },
    coolingTimeConstant: { value: 3600, u: 150 },
    limitRise: 80,
    onSeconds: 600,
    offSeconds: 900,
    currentDensity: 4,
    metal: 'copper',
  },
  run,
});
