import type { Build, Winding } from './build.ts';

/** The winding that is fed: the first primary of a build. */
export const primaryOf = (build: Pick<Build, 'windings'> | undefined): Winding | undefined =>
  build?.windings.find(({ fields }) => fields.role === 'primary');

/** Turns of a winding, counted or estimated; null when nobody knows them. */
export const turnsNumber = (winding: Pick<Winding, 'fields'> | undefined): number | null => {
  const turns = winding?.fields.turns;
  if (turns === undefined || turns.kind === 'unknown') return null;
  return turns.kind === 'counted' ? turns.turns : turns.value;
};
