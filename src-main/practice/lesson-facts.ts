import type { GuardState } from '../../src-shared/interlock/state.ts';
import type { PracticeControls } from '../../src-shared/practice/controls.ts';
import { lessonCore } from '../../src-shared/practice/lesson/lessons.ts';
import type { LessonFacts, LessonRun } from '../../src-shared/practice/lesson/lesson.ts';
import type { Core } from '../../src-shared/record/core.ts';
import type { Run } from '../../src-shared/record/run.ts';
import type { Store } from '../store/store.ts';
import type { LessonProgress } from './lesson-desk.ts';

/** The core on the shelf that the lessons are walked on; null while it is not laid out. */
export const coreOfLessons = (store: Pick<Store, 'cores'>): Core | null =>
  store.cores.list().find(({ fields }) => fields.demonstration === lessonCore) ?? null;

const microseconds = 1000;

function lessonRun(store: Store, run: Run): LessonRun | null {
  const session = store.sessions.get(run.sessionId);
  if (session === null) return null;
  const counts = ({ withdrawn }: { readonly withdrawn: string | null }) => withdrawn === null;
  return {
    run,
    session,
    pairs: store.keptPairs.ofRun(run.runId).filter(counts),
    points: store.keptPoints.ofRun(run.runId).filter(counts),
    results: store.results.ofRun(run.runId),
    lastMs: (store.readings.whole(run.runId, 0)?.lastUs ?? 0) / microseconds,
  };
}

/** What a lesson is followed by, gathered from the record and the guard. */
export function lessonFacts(
  store: Store,
  now: { readonly guard: GuardState; readonly controls: PracticeControls },
  { coreId }: Core,
  { begunWallMs, hasCompared, proof }: LessonProgress,
): LessonFacts {
  const builds = store.builds.listOf(coreId);
  const open = store.sessions.current();
  const isHere = open !== null && builds.some(({ buildId }) => buildId === open.fields.buildId);
  const practised = store.runs.ofCore(coreId).filter(({ practice }) => practice);
  const runIds = new Set(practised.map(({ runId }) => runId));
  return {
    ...now,
    session: isHere ? open : null,
    isElsewhere: open !== null && !isHere,
    meters: store.meters.list().map(({ description }) => description),
    builds,
    begunWallMs,
    runs: practised
      .filter(({ startedWallMs }) => startedWallMs >= begunWallMs)
      .flatMap((run) => lessonRun(store, run) ?? []),
    results: builds
      .flatMap(({ buildId }) => store.results.ofBuild(buildId))
      .filter(({ runId }) => runId !== null && runIds.has(runId)),
    proof,
    hasCompared,
  };
}
