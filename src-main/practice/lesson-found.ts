import { setImmediate } from 'node:timers/promises';
import * as v from 'valibot';
import { controlsAtFirst } from '../../src-shared/practice/controls.ts';
import { demonstrationTruth } from '../../src-shared/practice/demonstration.ts';
import type { LessonFacts, LessonId, LessonRun } from '../../src-shared/practice/lesson/lesson.ts';
import { lessonCore } from '../../src-shared/practice/lesson/lessons.ts';
import {
  currentRow,
  fallRow,
  heatRow,
  noLoadPoint,
  proofRow,
  turnsRow,
  type FoundRow,
} from '../../src-shared/practice/lesson/found.ts';
import { currentAt, finalCoreCelsius } from '../../src-shared/practice/lesson/truth.ts';
import type { PracticeBench } from '../../src-shared/practice/observed.ts';
import { hiddenWindings, practiceBenchOf, roomCelsius, turnsAddedIn } from '../../src-shared/practice/scene.ts';
import { PracticeTruth } from '../../src-shared/practice/truth.ts';
import { eventKind, type Result } from '../../src-shared/record/run.ts';
import type { Store } from '../store/store.ts';
import { deadResidueVolts } from './practice-bench.ts';

/** What the truth is worked out from. */
interface Known {
  readonly facts: LessonFacts;
  readonly store: Pick<Store, 'runs' | 'sessions' | 'events'>;
}

const nameOf = ({ builds }: LessonFacts, { buildId }: Result): string =>
  `Build ${builds.find((build) => build.buildId === buildId)?.number ?? '?'}`;

/** How the bench truly was when a run ended: what was set, and the fault that lay in it. */
function truthOfRun({ events }: Known['store'], runId: number): PracticeTruth | null {
  const read = v.safeParse(PracticeTruth, events.ofRunAndKind(runId, eventKind.practiceBench).at(-1)?.body);
  return read.success ? read.output : null;
}

/** The bench that a result was found on, by its truth. */
function benchOf({ facts, store }: Known, result: Result): PracticeBench | null {
  const run = result.runId === null ? null : store.runs.get(result.runId);
  const session = run === null ? null : store.sessions.get(run.sessionId);
  const truly = run === null ? null : truthOfRun(store, run.runId);
  const build = facts.builds.find(({ buildId }) => buildId === result.buildId);
  if (session === null || build === undefined || truly === null) return null;
  const earlier = facts.builds.filter(({ number }) => number <= build.number);
  return practiceBenchOf({
    truth: demonstrationTruth(lessonCore),
    windings: build.windings,
    turnsAdded: turnsAddedIn(earlier.flatMap(({ windings }) => windings)),
    supply: session.fields.supply,
    line: 1,
    fedWindingId: session.fields.fedWindingId,
    // The knob goes with every reading: it is not part of what a run says of the bench.
    controls: { ...truly.controls, supplyPercent: controlsAtFirst.supplyPercent },
    lying: { fault: truly.fault, sizes: truly.sizes },
    temperatures: { winding: roomCelsius, core: roomCelsius },
    isOn: true,
  });
}

/** A kept no-load point with its true current. Solving takes some tens of ms: everybody else has a turn before it. */
async function current(known: Known, result: Result) {
  const point = noLoadPoint(result);
  const bench = benchOf(known, result);
  if (point === null || bench === null) return null;
  await setImmediate();
  const truth = currentAt(bench, point.volts);
  return truth === null ? null : { point, truth };
}

async function currentRows(known: Known, results: readonly Result[]): Promise<readonly FoundRow[]> {
  const rows: FoundRow[] = [];
  for (const result of results) {
    const found = await current(known, result);
    if (found !== null) rows.push(currentRow(found.point, nameOf(known.facts, result), found.truth));
  }
  return rows;
}

async function comparedRows(known: Known): Promise<readonly FoundRow[]> {
  const { results, builds } = known.facts;
  // Of several points of a build the one at the highest volts, as the comparison takes it.
  const highest = (buildId: number | undefined) =>
    results
      .filter((result) => result.buildId === buildId)
      .flatMap((result) => {
        const point = noLoadPoint(result);
        return point === null ? [] : [{ result, volts: point.volts }];
      })
      .sort((one, other) => other.volts - one.volts)[0]?.result;
  const nearest = (buildId: number | undefined, volts: number) =>
    results
      .filter((result) => result.buildId === buildId)
      .flatMap((result) => {
        const point = noLoadPoint(result);
        return point === null ? [] : [{ result, off: Math.abs(point.volts - volts) }];
      })
      .sort((one, other) => one.off - other.off)[0]?.result;
  const last = highest(builds.at(-1)?.buildId);
  const lastPoint = last === undefined ? null : noLoadPoint(last);
  const first = lastPoint === null ? undefined : nearest(builds[0]?.buildId, lastPoint.volts);
  if (first === undefined || last === undefined) return [];
  const [before, after] = [await current(known, first), await current(known, last)];
  if (before === null || after === null) return [];
  return [
    currentRow(before.point, nameOf(known.facts, first), before.truth),
    currentRow(after.point, nameOf(known.facts, last), after.truth),
    fallRow(before, after),
  ];
}

const kept = (runs: readonly LessonRun[], procedures: readonly string[]): readonly Result[] =>
  runs.filter(({ run }) => procedures.includes(run.procedure)).flatMap(({ results }) => results);

/** What was found in a lesson beside the hidden truth. */
export async function foundInLesson(lessonId: LessonId, known: Known): Promise<readonly FoundRow[]> {
  const { facts } = known;
  switch (lessonId) {
    case 'make-dead': {
      const { proof, guard } = facts;
      return proof === null ? [] : [proofRow(proof.volts, guard.thresholds.deadAcVolts, deadResidueVolts)];
    }
    case 'low-coil':
    case 'mains-coil': {
      const hidden = hiddenWindings(demonstrationTruth(lessonCore), facts.builds);
      const primary = (buildId: number) =>
        facts.builds
          .find((build) => build.buildId === buildId)
          ?.windings.find(({ fields }) => fields.role === 'primary')?.windingId;
      return kept(facts.runs, ['test-coil']).flatMap((result) => {
        const truth = hidden.find(
          ({ buildId, windingId }) => buildId === result.buildId && windingId === primary(buildId),
        );
        return (truth === undefined ? null : turnsRow(result, nameOf(facts, result), truth.turns)) ?? [];
      });
    }
    case 'sweep':
      return currentRows(known, kept(facts.runs, ['no-load-sweep']));
    case 'heat-run':
      return kept(facts.runs, ['heat-run']).flatMap((result) => {
        const bench = result.calculation === 'heat-run' ? benchOf(known, result) : null;
        const truth = bench === null ? null : finalCoreCelsius(bench);
        return (truth === null ? null : heatRow(result, nameOf(facts, result), truth)) ?? [];
      });
    case 'add-turns':
      return currentRows(known, kept(facts.runs, ['no-load']));
    case 'compare':
      return comparedRows(known);
  }
}
