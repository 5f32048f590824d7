import * as v from 'valibot';
import { couplings } from '../meter/unit.ts';
import { recordId, words } from '../record/field.ts';
import { checkIds } from './checks.ts';

const finite = v.pipe(v.number('Expected a number.'), v.finite('Expected a finite number.'));
const positive = v.pipe(finite, v.gtValue(0, 'Must be above 0.'));
const index = v.pipe(v.number(), v.safeInteger(), v.minValue(0));
const checkId = v.picklist(checkIds, 'There is no such check.');
const reason = v.nullable(words('Reason', 200));

/** What the person says has changed on the bench. */
export const changes = ['meter', 'wiring', 'supply', 'winding', 'moved', 'load', 'away', 'hand-over', 'plug'] as const;
export type Change = (typeof changes)[number];

const instrument = v.variant('kind', [
  v.strictObject({
    kind: v.literal('meter'),
    meterId: recordId,
    acRange: index,
    dcRange: index,
    knownAcVolts: positive,
    knownDcVolts: positive,
  }),
  v.strictObject({
    kind: v.literal('indicator'),
    label: words('Indicator', 60),
    maxVolts: v.nullable(positive),
  }),
]);

const proofResult = v.variant('kind', [
  v.strictObject({
    kind: v.literal('volts'),
    volts: finite,
    coupling: v.picklist(couplings),
    meterId: recordId,
    range: v.nullable(index),
    lowImpedance: v.boolean(),
  }),
  v.strictObject({ kind: v.literal('overload'), meterId: recordId }),
  v.strictObject({ kind: v.literal('lights') }),
  v.strictObject({ kind: v.literal('nothing') }),
]);

const bound = v.nullable(finite);
const limits = v.strictObject({
  channels: v.pipe(
    v.array(
      v.strictObject({
        channel: v.string(),
        min: bound,
        max: bound,
        warn: bound,
        risePerMinute: v.nullable(positive),
      }),
    ),
    v.readonly(),
  ),
  runSeconds: v.nullable(positive),
  silenceSeconds: positive,
  typedSeconds: positive,
});
const thresholds = v.strictObject({
  deadAcVolts: positive,
  deadDcVolts: positive,
  proofMinutes: positive,
  benchMinutes: positive,
  touchVolts: positive,
});

/**
 * What a person can say to the guard. Main adds the instant and who said it, and for a meter what its description says
 * (`event.ts`). `proof-step` counts the steps of the proof in progress from 0.
 */
export const GuardCommand = v.variant('kind', [
  v.strictObject({ kind: v.literal('check-confirmed'), checkId }),
  v.strictObject({ kind: v.literal('check-withdrawn'), checkId }),
  v.strictObject({ kind: v.literal('should-skipped'), checkId, reason }),
  /** An empty list says that nothing was changed. */
  v.strictObject({ kind: v.literal('changed'), what: v.pipe(v.array(v.picklist(changes)), v.readonly()) }),
  v.strictObject({ kind: v.literal('core-state'), magnetised: v.boolean() }),
  v.strictObject({ kind: v.literal('proof-started'), instrument }),
  v.strictObject({ kind: v.literal('proof-step'), step: index, result: proofResult }),
  v.strictObject({ kind: v.literal('proof-abandoned') }),
  /** Low voltage only: the transformer's own plug is out, which is all that is proved. */
  v.strictObject({ kind: v.literal('plug-out-proved') }),
  /** Between the points of a series: the plug is out, the clipped meter fell, and no metal will be touched. */
  v.strictObject({ kind: v.literal('next-point-proved'), touchesMetal: v.boolean() }),
  v.strictObject({ kind: v.literal('limits-set'), limits, reason }),
  v.strictObject({ kind: v.literal('thresholds-set'), thresholds, reason }),
  v.strictObject({ kind: v.literal('ready-asked') }),
  v.strictObject({ kind: v.literal('power-on-begun') }),
  v.strictObject({ kind: v.literal('power-on-let-go') }),
  v.strictObject({ kind: v.literal('power-on-confirmed') }),
  v.strictObject({ kind: v.literal('power-off') }),
  /** Stills the sound; the alarm stands. */
  v.strictObject({ kind: v.literal('alarm-heard') }),
]);
export type GuardCommand = v.InferOutput<typeof GuardCommand>;
