import { cautionText } from '../interlock/cautions.ts';
import type { WindingFields } from '../record/build.ts';

/** The cautions that belong to single windings, each with the winding's name before it. */
export const windingCautions = (windings: readonly WindingFields[]): readonly string[] =>
  windings.flatMap(({ label, turns, oneEndOnCore }) => [
    ...(turns.kind === 'unknown' ? [`${label}: ${cautionText('c-unknown', {})}`] : []),
    ...(oneEndOnCore === 'yes' ? [`${label}: ${cautionText('c-core', {})}`] : []),
  ]);
