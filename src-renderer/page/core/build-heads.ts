import { noLoadNear } from '../../../src-shared/comparison/no-load-near.ts';
import { voltsOf } from '../../../src-shared/comparison/side.ts';
import { windingChanges } from '../../../src-shared/comparison/sentence.ts';
import type { PlanWhole } from '../../../src-shared/contract/plan-view.ts';
import { formatEstimate, formatNumber } from '../../../src-shared/quantity/format.ts';
import type { Build } from '../../../src-shared/record/build.ts';
import { primaryOf } from '../../../src-shared/record/primary.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import * as v from 'valibot';
import { turnsWords } from '../shelf/core-words.ts';

const finite = v.pipe(v.number(), v.finite());
const Amps = v.looseObject({
  amps: v.looseObject({
    value: finite,
    u: v.nullable(finite),
    shared: v.optional(v.looseObject({ u: finite })),
  }),
});

/** The figures of a build that matter most, each as a phrase, no load by the line; what is not known is said. */
export function headFigures(build: Build, results: readonly Result[], lineVolts: number): readonly string[] {
  const primary = primaryOf(build);
  const turns = primary === undefined ? null : turnsWords(primary.fields.turns);
  const ofBuild = results.filter(({ buildId }) => buildId === build.buildId);
  const point = noLoadNear(ofBuild, lineVolts);
  const read = v.safeParse(Amps, point?.input);
  const volts = point === undefined ? null : voltsOf(point);
  return [
    primary === undefined ? 'no primary described' : turns === null ? 'primary turns not known' : `primary ${turns}`,
    ...(read.success && volts !== null ? [`${ampsWords(read.output.amps)} at ${formatNumber(volts, 4)} V`] : []),
  ];
}

const ampsWords = ({ value, u, shared }: v.InferOutput<typeof Amps>['amps']): string =>
  formatEstimate({ value, u: u === null ? null : Math.hypot(u, shared?.u ?? 0), unit: 'A' });

/** What was done to make a build of the one before it; empty for the first, and where the record tells of nothing. */
export const changesOf = (build: Build, builds: readonly Build[]): readonly string[] => {
  const before = builds.find(({ number }) => number === build.number - 1);
  return before === undefined ? [] : windingChanges(before, build);
};

/** A plan that nobody has wound yet. */
export interface PlannedBuild {
  readonly revisionId: number;
  readonly title: string;
  readonly number: number;
  readonly wallMs: number;
  readonly figures: string;
  readonly isStale: boolean;
}

/** The newest version of each plan that no build followed. */
export const plannedBuilds = (plans: readonly PlanWhole[], builds: readonly Build[]): readonly PlannedBuild[] =>
  plans.flatMap(({ versions }) => {
    const version = versions.at(-1);
    const isWound = versions.some(({ revisionId }) =>
      builds.some(({ fields }) => fields.planRevisionId === revisionId),
    );
    if (version === undefined || isWound) return [];
    const { addedTurns, outputs, title } = version.fields;
    const added = addedTurns === 0 ? [] : [`${addedTurns > 0 ? '+' : '−'}${Math.abs(addedTurns)} primary turns`];
    return [
      {
        revisionId: version.revisionId,
        title,
        number: version.number,
        wallMs: version.wallMs,
        figures: [...added, ...outputs.map(({ label, turns }) => `${label} ${turns} turns`)].join(', '),
        isStale: version.stale.length > 0,
      },
    ];
  });
