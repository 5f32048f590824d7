import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { lessonIds, stepStates, type LessonFacts, type LessonId } from '../../src-shared/practice/lesson/lesson.ts';
import { lessonById } from '../../src-shared/practice/lesson/lessons.ts';
import { isFinished, type LessonsView, type LessonView } from '../../src-shared/practice/lesson/lessons-view.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { Services } from '../host/service.ts';
import type { LessonDesk } from '../practice/lesson-desk.ts';
import { coreOfLessons, lessonFacts } from '../practice/lesson-facts.ts';
import { foundInLesson } from '../practice/lesson-found.ts';
import type { PracticeSetting } from '../practice/practice-setting.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly guard: Pick<GuardKeeper, 'state'>;
  readonly setting: Pick<PracticeSetting, 'controls'>;
  readonly desk: LessonDesk;
  readonly push: (push: Push) => void;
}

/** Answers about the lessons of the practice bench. */
export function lessonServices({
  store,
  guard,
  setting,
  desk,
  push,
}: Parts): Pick<Services, 'lesson.list' | 'lesson.mark' | 'lesson.found'> {
  const factsOf = (lessonId: LessonId): LessonFacts | null => {
    const core = coreOfLessons(store);
    const progress = desk.progress(lessonId);
    if (core === null || progress === null) return null;
    return lessonFacts(store, { guard: guard.state, controls: setting.controls }, core, progress);
  };

  const viewOf = (lessonId: LessonId): LessonView => {
    const facts = factsOf(lessonId);
    return {
      lessonId,
      begunWallMs: facts?.begunWallMs ?? null,
      steps: facts === null ? [] : [...stepStates(lessonById(lessonId), facts)],
    };
  };

  const list = (): LessonsView => {
    const core = coreOfLessons(store);
    return {
      inHand: core === null ? null : desk.inHand,
      core:
        core === null
          ? null
          : {
              coreId: core.coreId,
              label: core.fields.label,
              buildIds: store.builds.listOf(core.coreId).map(({ buildId }) => buildId),
            },
      lessons: lessonIds.map(viewOf),
    };
  };

  const mark = (lessonId: LessonId, act: 'begun' | 'left' | 'taken-up' | 'compared'): Outcome<LessonsView> => {
    if (coreOfLessons(store) === null) {
      return failed('not-found', 'Lay out the demonstration shelf first: the lessons are walked on one of its cores.');
    }
    if (act !== 'begun' && desk.progress(lessonId) === null) {
      return failed('not-found', 'This lesson was not begun yet.', { path: 'lessonId' });
    }
    const marked = desk.mark(lessonId, act);
    if (!marked.ok) return marked;
    push({ kind: 'changed', what: 'lesson', id: null });
    return done(list());
  };

  return {
    'lesson.list': () => done(list()),
    'lesson.mark': ({ lessonId, act }) => mark(lessonId, act),
    'lesson.found': async ({ lessonId }) => {
      const facts = factsOf(lessonId);
      if (facts === null || !isFinished(viewOf(lessonId))) {
        return failed('not-found', 'The truth is told at the end of the lesson: some of its steps are left.', {
          path: 'lessonId',
        });
      }
      return done([...(await foundInLesson(lessonId, { facts, store }))]);
    },
  };
}
