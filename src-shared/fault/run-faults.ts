import * as v from 'valibot';
import type { Answers } from '../procedure/field.ts';
import type { Build } from '../record/build.ts';
import type { CoreFields } from '../record/core.ts';
import type { KeptPair, KeptPoint, Result, Run } from '../record/run.ts';
import type { Session } from '../record/session.ts';
import type { FaultReading } from './fault-reading.ts';
import { readFaults, type FaultMaterial } from './read-faults.ts';

/** A run with what was kept in it and what the record knows of its core. */
export interface FaultRecord {
  readonly run: Run;
  readonly session: Session;
  readonly core: CoreFields | null;
  readonly build: Build;
  readonly answers: Answers;
  readonly points: readonly KeptPoint[];
  readonly kept: readonly KeptPair[];
  /** Everything that was kept of the core. */
  readonly results: readonly Result[];
}

const Measured = v.union([
  v.number(),
  v.pipe(
    v.object({ value: v.number() }),
    v.transform(({ value }) => value),
  ),
]);
const NoLoad = v.object({ volts: Measured, amps: Measured, watts: v.optional(Measured) });

/** What the build took at no load in the last run before this one. */
function noLoadBefore({ run, results }: FaultRecord): FaultMaterial['noLoadBefore'] {
  const kept = results
    .filter(
      ({ buildId, runId, calculation }) =>
        buildId === run.buildId && (runId ?? 0) < run.runId && calculation === 'no-load',
    )
    .reduce<Result | null>((last, one) => (last === null || one.resultId > last.resultId ? one : last), null);
  const read = v.safeParse(NoLoad, kept?.input);
  if (!read.success) return null;
  const { volts, amps, watts } = read.output;
  return { volts, amps, watts: watts ?? null };
}

/** What the readings of a run say against what was expected, from what was read and was known before it. */
export function faultsOfRun(record: FaultRecord): readonly FaultReading[] {
  const { run, session, core, build, answers, points, kept } = record;
  return readFaults({
    procedure: run.procedure,
    supply: session.fields.supply,
    fedWindingId: session.fields.fedWindingId,
    core,
    shunts: build.fields.shunts,
    windings: build.windings,
    answers,
    points: points.filter(({ withdrawn }) => withdrawn === null),
    pairs: kept.filter(({ withdrawn }) => withdrawn === null),
    noLoadBefore: noLoadBefore(record),
  });
}
