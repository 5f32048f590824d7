import type { Place } from '../state/route.svelte.ts';

/** A place of the program, in the order of the job. `owns`: the kinds of address that belong to it. */
export interface PlaceEntry {
  readonly label: string;
  readonly icon: 'shelf' | 'core' | 'bench' | 'meters';
  readonly owns: readonly Place['kind'][];
}

export const placeEntries: readonly PlaceEntry[] = [
  { label: 'Shelf', icon: 'shelf', owns: ['shelf', 'new-core'] },
  { label: 'Core', icon: 'core', owns: ['core', 'edit-core'] },
  { label: 'Bench', icon: 'bench', owns: ['bench'] },
  { label: 'Meters', icon: 'meters', owns: ['meters', 'meter', 'new-meter'] },
];
