import * as v from 'valibot';
import type { BenchFacts } from './bench.ts';
import { bounds, presetThresholds, thresholdNames, type Thresholds } from './bounds.ts';
import type { Restarted } from './event.ts';
import { guardKinds } from './why.ts';

const positive = v.pipe(v.number(), v.finite(), v.gtValue(0));

/** The few things that are read back from the last state that was stored; everything else is forgotten on purpose. */
const Stored = v.object({
  kind: v.picklist(guardKinds),
  revision: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
  coreMagnetised: v.boolean(),
  thresholds: v.object({
    deadAcVolts: positive,
    deadDcVolts: positive,
    proofMinutes: positive,
    benchMinutes: positive,
    touchVolts: positive,
  }),
});

const within = (thresholds: Thresholds): boolean =>
  thresholdNames.every((name) => thresholds[name] >= bounds[name].lowest && thresholds[name] <= bounds[name].highest);

/**
 * The event with which a program begins again. `stored` is the last state that was written, as it came from the disk;
 * `session` the one that was open, null when none was. What cannot be read counts as the stricter: the core as
 * magnetised, the thresholds as preset, what it was as not known.
 */
export function restartedFrom(
  stored: unknown,
  session: { readonly sessionId: number; readonly practice: boolean; readonly bench: BenchFacts } | null,
  atMs: number,
): Restarted {
  const read = v.safeParse(Stored, stored);
  const was = read.success ? read.output : null;
  return {
    kind: 'restarted',
    atMs,
    revision: was?.revision ?? 0,
    was: was?.kind ?? null,
    sessionId: session?.sessionId ?? null,
    practice: session?.practice ?? false,
    bench: session?.bench ?? null,
    thresholds: was !== null && within(was.thresholds) ? was.thresholds : presetThresholds,
    coreMagnetised: was?.coreMagnetised ?? true,
  };
}
