import type { Coupling } from '../../../src-shared/meter/unit.ts';

/** What a range passes on, to choose from. */
export const couplingOptions: readonly { readonly value: Coupling | 'none'; readonly label: string }[] = [
  { value: 'ac', label: 'a.c.' },
  { value: 'dc', label: 'd.c.' },
  { value: 'ac+dc', label: 'a.c. + d.c.' },
  { value: 'none', label: 'not said' },
];
