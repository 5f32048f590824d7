import type { GuardState } from '../../interlock/state.ts';
import type { MeterDescription } from '../../meter/description.ts';
import type { Build } from '../../record/build.ts';
import type { KeptPair, KeptPoint, Result, Run } from '../../record/run.ts';
import type { Session } from '../../record/session.ts';
import type { PracticeControls } from '../controls.ts';

/** The job, in its order. */
export const lessonIds = ['make-dead', 'low-coil', 'mains-coil', 'sweep', 'heat-run', 'add-turns', 'compare'] as const;
export type LessonId = (typeof lessonIds)[number];

/** A run that was practised on the lesson's core since the lesson was begun, with what it kept and still counts. */
export interface LessonRun {
  readonly run: Run;
  readonly session: Session;
  readonly pairs: readonly KeptPair[];
  readonly points: readonly KeptPoint[];
  readonly results: readonly Result[];
  /** Time of the run up to its last reading, in ms. */
  readonly lastMs: number;
}

/** What a proof read on the circuit, point by point, in V. */
export interface CircuitVolts {
  readonly volts: readonly number[];
}

/** What a lesson is followed by: what the guard and the record say, and how the practice bench is set. */
export interface LessonFacts {
  readonly guard: GuardState;
  /** The open session on the lesson's core; null while none is. `isElsewhere`: one is open on another core. */
  readonly session: Session | null;
  readonly isElsewhere: boolean;
  readonly controls: PracticeControls;
  readonly meters: readonly MeterDescription[];
  /** Of the lesson's core, in their order. */
  readonly builds: readonly Build[];
  readonly begunWallMs: number;
  /** Oldest first. */
  readonly runs: readonly LessonRun[];
  /** Every kept result of practised runs on the core, whenever it was kept, oldest first. */
  readonly results: readonly Result[];
  /** What a proof with a meter since the lesson was begun read on the circuit, in V; null before there is one. */
  readonly proof: CircuitVolts | null;
  /** Two builds were looked at beside each other since the lesson was begun. */
  readonly hasCompared: boolean;
}

/** Where a step is done. */
export type LessonPlace = 'practice' | 'core' | 'compare' | 'bench' | 'set-up' | 'prove' | 'readings';

/** One thing to do. */
export interface LessonStep {
  readonly id: string;
  readonly say: string;
  readonly why: string;
  readonly place: LessonPlace;
  readonly isDone: (facts: LessonFacts) => boolean;
  /** It is in the record once it was done, and with it that everything before it was. */
  readonly isKept: boolean;
}

/** One part of the job, to be walked on the practice bench. */
export interface Lesson {
  readonly id: LessonId;
  readonly title: string;
  /** Why it is worth walking before it is done for real. */
  readonly why: string;
  readonly steps: readonly LessonStep[];
}

/** How a step stands: passed over is one that was never done before a later one was. */
export type StepState = 'done' | 'passed-over' | 'next' | 'later';

/**
 * How the steps of a lesson stand by what the record and the guard say. What is in the record stays done; what stands only
 * for a while, such as a proof, is asked for again when it lapsed before the next kept step.
 */
export function stepStates({ steps }: Pick<Lesson, 'steps'>, facts: LessonFacts): readonly StepState[] {
  const isDone = steps.map((step) => step.isDone(facts));
  const lastKept = steps.findLastIndex(({ isKept }, index) => isKept && isDone[index] === true);
  const next = steps.findIndex((_, index) => index > lastKept && isDone[index] !== true);
  return steps.map(({ isKept }, index) => {
    if (index <= lastKept) return isKept && isDone[index] !== true ? 'passed-over' : 'done';
    if (next === -1 || index < next) return 'done';
    return index === next ? 'next' : 'later';
  });
}
