import type { RequestValue } from '../../../src-shared/contract/request.ts';

/** A build that can be chosen for one side. */
export interface BuildChoice {
  readonly coreId: number;
  readonly buildId: number;
  readonly number: number;
  readonly core: string;
  readonly title: string;
  readonly label: string;
}

/** Every build on the shelf, in the order of the shelf and then of its core. */
export const buildChoices = (cores: RequestValue<'core.list'>): readonly BuildChoice[] =>
  cores.flatMap(({ core, builds }) =>
    builds.map(({ buildId, number, fields }) => ({
      coreId: core.coreId,
      buildId,
      number,
      core: core.fields.label,
      title: fields.title,
      label: `${core.fields.label} · build ${number}, ${fields.title}`,
    })),
  );

/** The two builds to show: those that were asked for, else the newest build of a core beside the one before it. */
export function chosenPair(
  choices: readonly BuildChoice[],
  before: number | null,
  after: number | null,
): { readonly before: BuildChoice; readonly after: BuildChoice } | null {
  const byId = (buildId: number | null) => choices.find((one) => one.buildId === buildId);
  const [one, other] = [byId(before), byId(after)];
  if (one !== undefined && other !== undefined) return { before: one, after: other };
  const newest = [...choices].sort((first, second) => second.buildId - first.buildId).find(({ number }) => number > 1);
  if (newest === undefined) return null;
  const earlier = choices.find(({ coreId, number }) => coreId === newest.coreId && number === newest.number - 1);
  return earlier === undefined ? null : { before: earlier, after: newest };
}
