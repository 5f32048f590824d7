import type { HiddenWinding } from '../../../src-shared/practice/controls.ts';
import { ohmsRow, turnsRow, type FoundRow } from '../../../src-shared/practice/lesson/found.ts';
import type { Build } from '../../../src-shared/record/build.ts';
import type { Result } from '../../../src-shared/record/run.ts';

/** Every kept result that a hidden figure of the primary belongs to, newest last. */
export function foundBesideTruth(
  hidden: readonly HiddenWinding[],
  builds: readonly Build[],
  results: readonly Result[],
): readonly FoundRow[] {
  return [...results]
    .sort((one, other) => one.resultId - other.resultId)
    .flatMap((result): readonly FoundRow[] => {
      const build = builds.find(({ buildId }) => buildId === result.buildId);
      const primary = build?.windings.find(({ fields }) => fields.role === 'primary');
      const truth = hidden.find(
        ({ buildId, windingId }) => buildId === result.buildId && windingId === primary?.windingId,
      );
      if (truth === undefined || build === undefined) return [];
      const of = `Build ${build.number}`;
      return [turnsRow(result, of, truth.turns), ohmsRow(result, of, truth.ohms20)].filter((row) => row !== null);
    });
}
