import { assertNever } from '../../../src-shared/quantity/assert-never.ts';
import type { LessonPlace } from '../../../src-shared/practice/lesson/lesson.ts';
import type { LessonsView } from '../../../src-shared/practice/lesson/lessons-view.ts';
import type { Place } from '../../state/route.svelte.ts';

/** The place of the program where a step of a lesson is done. */
export function placeOfStep(place: LessonPlace, core: LessonsView['core']): Place {
  const [first, last] = [core?.buildIds[0], core?.buildIds.at(-1)];
  switch (place) {
    case 'practice':
      return { kind: 'practice', lesson: null };
    case 'core':
      return core === null ? { kind: 'shelf' } : { kind: 'core', coreId: core.coreId, buildId: null };
    case 'compare':
      return first === undefined || last === undefined || first === last
        ? { kind: 'compare', before: null, after: null }
        : { kind: 'compare', before: first, after: last };
    case 'bench':
      return { kind: 'bench', part: null };
    case 'set-up':
    case 'prove':
    case 'readings':
      return { kind: 'bench', part: place };
    default:
      return assertNever(place);
  }
}

/** What a link to the place says. */
export const placeWords: Readonly<Record<LessonPlace, string>> = {
  practice: 'To the practice bench',
  core: 'To the core',
  compare: 'To the comparison',
  bench: 'To the bench',
  'set-up': 'To the set-up',
  prove: 'To the proof',
  readings: 'To the readings',
};
