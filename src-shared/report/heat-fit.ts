import * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';

/** What stands in the way of a heat run's final value, and what to do about it. */
export interface HeatFit {
  /** `none`: no curve at all; `unsure`: a curve that says nothing of the end; `early`: it may move yet. */
  readonly kind: 'none' | 'unsure' | 'early';
  readonly title: string;
  readonly text: string;
}

const number = v.pipe(v.number(), v.finite());
const Quantity = v.looseObject({ value: number, u: v.nullable(number) });
const Answered = v.looseObject({
  ok: v.literal(true),
  results: v.looseObject({
    finalCelsius: Quantity,
    startCelsius: Quantity,
    timeConstant: Quantity,
    rmsResidual: v.optional(number),
    steady: v.nullish(v.boolean()),
  }),
  cautions: v.array(v.looseObject({ code: v.string() })),
});
const Refused = v.looseObject({
  ok: v.literal(false),
  error: v.looseObject({ code: v.literal('not-determined') }),
});

/** Scatter of so much of the rise is no noise of a thermometer: common practice, no source. */
const poorShare = 0.03;

/** A time constant whose standard uncertainty is so much of it tells no time. */
const vague = 0.5;

const length = (seconds: number): string =>
  seconds < 600 ? `${formatNumber(seconds, 2)} s` : `${formatNumber(seconds / 60, 2)} min`;

/**
 * Whether the readings of a heat run carry its final value: null when they do, or when the answer is of another
 * calculation. Before one time constant there is none to rely on, before two it may move; what bends otherwise than one
 * exponential has none at all.
 * @param calculation - what the answer is of
 * @param soFar - the answer of the calculation, or its refusal
 * @param isOver - nothing is read any more
 */
export function heatFit(calculation: string, soFar: unknown, isOver: boolean): HeatFit | null {
  if (calculation !== 'heat-run') return null;
  if (v.is(Refused, soFar)) return notBent(isOver);
  const read = v.safeParse(Answered, soFar);
  if (!read.success) return null;
  const { results, cautions } = read.output;
  const codes = new Set(cautions.map(({ code }) => code));
  const { finalCelsius, startCelsius, timeConstant, rmsResidual = 0, steady } = results;
  const rise = Math.abs(finalCelsius.value - startCelsius.value);
  const leavesCurve = codes.has('poor-fit') || (finalCelsius.u === null && rmsResidual > poorShare * rise);
  if (leavesCurve) return notOneCurve(isOver, steady === true);
  if (timeConstant.u !== null && timeConstant.u > vague * timeConstant.value) return notBent(isOver);
  const tau = length(timeConstant.value);
  const twice = length(2 * timeConstant.value);
  if (codes.has('too-early') || codes.has('solved-exactly')) {
    return {
      kind: 'unsure',
      title: isOver ? 'No final value to rely on' : 'Too early for a final value',
      text: isOver
        ? `It was on for less than one time constant, about ${tau}: where it would have ended is a guess. Repeat it for ${twice} or more.`
        : `It has not been on for one time constant, about ${tau}. Go on until ${twice} after power on; what stands here moves until then.`,
    };
  }
  if (!codes.has('early')) return null;
  return {
    kind: 'early',
    title: 'The final value may move yet',
    text: isOver
      ? `It was on for less than two time constants of about ${tau}. For a figure to rely on, repeat it for ${twice} or more.`
      : `It has been on for less than two time constants. Go on until ${twice} after power on.`,
  };
}

function notBent(isOver: boolean): HeatFit {
  return {
    kind: 'none',
    title: isOver ? 'No final value' : 'No final value yet',
    text: isOver
      ? 'It ended before its temperature bent: nothing tells where it would have gone. Repeat it from cold, and stay until it rises no more than 1 K in half an hour.'
      : 'The temperature has not bent yet: nothing tells where it will end. Go on; the first figure comes when it rises visibly slower than at the start.',
  };
}

function notOneCurve(isOver: boolean, isSteady: boolean): HeatFit {
  const why =
    'The readings leave the curve by far more than their own doubt: two parts warming at different speeds, a supply that changed, a draught, or a bead that moved.';
  const instead = isSteady
    ? 'It had come to rest: take its last readings for the end, not the curve.'
    : isOver
      ? 'Do not use the final value. Look at the line volts and the marks, put right what changed, and repeat it until it is steady.'
      : 'Do not use the final value. Look at the line volts and the bead; go on until it rises no more than 1 K in half an hour and take the last readings.';
  return { kind: 'unsure', title: 'Not one exponential', text: `${why} ${instead}` };
}

/** Results that say where it ends: not to be shown while nothing carries them. */
export const endKeys: readonly string[] = ['finalCelsius', 'finalRise', 'secondsToLimit'];
