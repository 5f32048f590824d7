import type { WindingFields } from '../../src-shared/record/build.ts';

/** Which material colour a winding is drawn in: its metal, and among copper ones its role. */
export type WindingColour = 'copper' | 'copper-deep' | 'copper-pale' | 'aluminium';

export function windingColour({ role, metal }: Pick<WindingFields, 'role' | 'metal'>): WindingColour {
  if (metal === 'aluminium') return 'aluminium';
  return role === 'primary' ? 'copper' : role === 'secondary' ? 'copper-deep' : 'copper-pale';
}
