import * as v from 'valibot';
import { faultsOfRun } from '../../src-shared/fault/run-faults.ts';
import { eventKind, RunSetUp, type RecordEvent } from '../../src-shared/record/run.ts';
import { fillerAt } from '../../src-shared/record/channel-filler.ts';
import type { CheckMark } from '../../src-shared/record/check.ts';
import { readingUncertainty } from '../../src-shared/record/reading-uncertainty.ts';
import { happeningsOf, limitSpansOf } from '../../src-shared/report/happenings.ts';
import type { ChannelCount, NearestReading, RunFacts } from '../../src-shared/report/run-facts.ts';
import type { RecordReader } from '../store/read-record.ts';

const nothing: ChannelCount = { readings: 0, overloads: 0, unreadables: 0, lowest: null, highest: null, mean: null };

function countOf(reader: RecordReader, runId: number, channel: number): { count: ChannelCount; lastMs: number } {
  const whole = reader.readings.whole(runId, channel);
  if (whole === null) return { count: nothing, lastMs: 0 };
  const { numbers, overloads, unreadables, spots, lastUs } = whole;
  return {
    count: {
      readings: numbers + overloads + unreadables,
      overloads,
      unreadables,
      lowest: spots?.lowest.value ?? null,
      highest: spots?.highest.value ?? null,
      mean: spots === null ? null : spots.sum / numbers,
    },
    lastMs: lastUs / 1000,
  };
}

/** The last mark of each line up to an instant by the wall clock, in the order in which the lines were first marked. */
function latestChecks(checks: readonly CheckMark[], upToMs: number): readonly CheckMark[] {
  const latest = new Map<string, CheckMark>();
  for (const check of checks) if (check.wallMs <= upToMs) latest.set(check.checkId, check);
  return [...latest.values()];
}

/** What was answered at set-up; nothing for a run without it. */
function answersOf(events: readonly RecordEvent[]): RunSetUp['answers'] {
  const read = v.safeParse(RunSetUp, events.find(({ kind }) => kind === eventKind.runSetUp)?.body);
  return read.success ? read.output.answers : {};
}

/** Everything that is told of a run beside its readings; null when the record has no such run. */
export function gatherRun(reader: RecordReader, runId: number): RunFacts | null {
  const run = reader.runs.get(runId);
  const session = run === null ? null : reader.sessions.get(run.sessionId);
  const build = run === null ? null : reader.builds.get(run.buildId);
  const core = build === null ? null : reader.cores.get(build.coreId);
  if (run === null || session === null || build === null || core === null) return null;

  const counted = run.channels.map((_, channel) => countOf(reader, runId, channel));
  const kept = reader.keptPairs.ofRun(runId);
  const points = reader.keptPoints.ofRun(runId);
  const events = reader.events.ofRun(runId);
  const answers = answersOf(events);
  const results = reader.results.ofBuild(build.buildId);
  const faults = faultsOfRun({ run, session, core: core.fields, build, answers, points, kept, results });
  const before = reader.events.guardBefore(run.sessionId, runId, run.startedWallMs);
  return {
    run,
    session,
    core,
    build,
    meters: run.channels.flatMap(({ meterRevisionId }) => reader.meters.revision(meterRevisionId)?.description ?? []),
    takers: run.channels.map(({ takenOver = [] }) =>
      takenOver.flatMap(({ meterRevisionId }) => reader.meters.revision(meterRevisionId)?.description ?? []),
    ),
    counts: counted.map(({ count }) => count),
    lastMs: Math.max(0, ...counted.map(({ lastMs }) => lastMs)),
    kept: [...kept],
    points: [...points],
    answers,
    faults: [...faults],
    happenings: [...happeningsOf(run, events, { kept, points }, before)],
    limits: [...limitSpansOf(run, events, before)],
    results: [...reader.results.ofRun(runId)],
    checks: [...latestChecks(reader.checks.ofSession(run.sessionId), run.endedWallMs ?? Infinity)],
    saidOfSession: [...reader.sessions.history(run.sessionId)],
    signOff: reader.sessions.signOffOf(run.sessionId),
  };
}

/** The reading of each channel that lies nearest to an instant of a run; null when the record has no such run. */
export function readingsAt(reader: RecordReader, runId: number, atMs: number): readonly NearestReading[] | null {
  const run = reader.runs.get(runId);
  if (run === null) return null;
  return run.channels.flatMap((each, index) => {
    const { channel, unit } = each;
    const reading = reader.readings.nearest(runId, index, atMs);
    if (reading === null) return [];
    const filler = fillerAt(each, reading.atMs);
    const description = reader.meters.revision(filler.meterRevisionId)?.description;
    if (description === undefined) return [];
    const { kind, value, text, origin } = reading;
    const u = readingUncertainty(reading, { ...filler, unit }, description);
    return [{ channel, unit, atMs: reading.atMs, kind, value, u, text, origin }];
  });
}
