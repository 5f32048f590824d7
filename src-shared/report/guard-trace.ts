import * as v from 'valibot';
import { guardKinds, type Trip } from '../interlock/why.ts';
import { tripWords } from '../interlock/words.ts';

const nullable = v.nullable(v.pipe(v.number(), v.finite()));

/** The trips that words are known for; anything else in a record is told as a crossed limit. */
const KnownTrip = v.variant('code', [
  v.looseObject({
    code: v.literal('limit'),
    channel: v.string(),
    label: v.string(),
    unit: v.string(),
    bound: v.picklist(['min', 'max']),
    value: nullable,
    limit: v.number(),
  }),
  v.looseObject({
    code: v.literal('rise'),
    channel: v.string(),
    label: v.string(),
    unit: v.string(),
    perMinute: v.number(),
    limit: v.number(),
  }),
  v.looseObject({ code: v.literal('run-time'), limitSeconds: v.number() }),
  v.looseObject({
    code: v.literal('silence'),
    channel: v.string(),
    label: v.string(),
    source: v.picklist(['meter', 'typed']),
    seconds: v.number(),
    limitSeconds: v.number(),
  }),
  v.looseObject({ code: v.literal('slept'), seconds: v.number() }),
]);

/** As much of a stored state of the guard as a run is told by. */
const GuardTrace = v.looseObject({
  kind: v.picklist(guardKinds),
  limits: v.nullable(
    v.looseObject({
      channels: v.array(v.looseObject({ channel: v.string(), min: nullable, max: nullable, warn: nullable })),
    }),
  ),
  power: v.nullable(v.looseObject({ by: v.string() })),
  trip: v.nullable(v.unknown()),
});
export type GuardTrace = v.InferOutput<typeof GuardTrace>;

/** A stored state of the guard; null when it is none that can be read. */
export function readGuardTrace(body: unknown): GuardTrace | null {
  const read = v.safeParse(GuardTrace, body);
  return read.success ? read.output : null;
}

/** What tripped, as it is told afterwards: without the call to switch off, which was for that moment. */
export function tripTold(trip: unknown): string {
  const read = v.safeParse(KnownTrip, trip);
  if (!read.success) return 'A limit was crossed.';
  const known: Trip = read.output;
  return tripWords(known).replace(' Switch off at the plug now. Recording goes on.', '');
}
