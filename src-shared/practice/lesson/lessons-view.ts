import * as v from 'valibot';
import { recordId, wallMs } from '../../record/field.ts';
import { lessonIds } from './lesson.ts';

export const LessonName = v.picklist(lessonIds);

/** What a proof read on the circuit, in V. */
const CircuitVolts = v.strictObject({ volts: v.array(v.pipe(v.number(), v.finite())) });

/** What became of a lesson, as the record keeps it. */
const lessonActs = ['begun', 'left', 'taken-up', 'proved', 'compared'] as const;
export const LessonMark = v.strictObject({
  lessonId: LessonName,
  act: v.picklist(lessonActs),
  /** With `proved`: what the meter read on the circuit, point by point. */
  proof: v.optional(CircuitVolts),
});
export type LessonMark = v.InferOutput<typeof LessonMark>;

/** How one lesson stands. */
export const LessonView = v.strictObject({
  lessonId: LessonName,
  /** Null before it was begun. */
  begunWallMs: v.nullable(wallMs),
  /** In the order of its steps; empty before it was begun. */
  steps: v.array(v.picklist(['done', 'passed-over', 'next', 'later'])),
});
export type LessonView = v.InferOutput<typeof LessonView>;

/** How the lessons stand, and which one is in hand. */
export const LessonsView = v.strictObject({
  inHand: v.nullable(LessonName),
  /** The core that they are walked on, and its builds in their order; null while the demonstration is not laid out. */
  core: v.nullable(v.strictObject({ coreId: recordId, label: v.string(), buildIds: v.array(recordId) })),
  lessons: v.array(LessonView),
});
export type LessonsView = v.InferOutput<typeof LessonsView>;

/** Every step was done or passed over. */
export const isFinished = ({ steps }: Pick<LessonView, 'steps'>): boolean =>
  steps.length > 0 && steps.every((state) => state === 'done' || state === 'passed-over');
