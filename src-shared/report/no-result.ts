import * as v from 'valibot';
import { heatFit, type HeatFit } from './heat-fit.ts';

/** What is said of a run of which no result was kept. */
export interface NoResult {
  readonly title: string;
  /** What stands in the way of a heat run's final value; null where nothing does. */
  readonly fit: HeatFit | null;
  /** Why there is none, as a sentence; null where `fit` says it. */
  readonly sentence: string | null;
}

const Answered = v.looseObject({ ok: v.literal(true) });
const Refused = v.looseObject({ ok: v.literal(false), error: v.looseObject({ message: v.string() }) });

/**
 * Why a run has no result; null when there is nothing to say of it.
 * @param calculation - of the run's procedure
 * @param soFar - what that answered to the run, or its refusal; null when it was not asked
 * @param waitingFor - what was missing to ask it; null when nothing was
 * @param isOver - nothing is read any more
 */
export function noResult(
  calculation: string,
  soFar: unknown,
  waitingFor: string | null,
  isOver: boolean,
): NoResult | null {
  const fit = heatFit(calculation, soFar, isOver);
  const refused = v.safeParse(Refused, soFar);
  const why = refused.success ? refused.output.error.message : waitingFor;
  const sentence = v.is(Answered, soFar)
    ? 'Nothing of it was kept as a result. It can be kept at the bench while its sitting is open.'
    : fit === null
      ? why
      : null;
  if (fit === null && sentence === null) return null;
  return { title: isOver ? 'No result was kept' : 'No result is kept yet', fit, sentence };
}
