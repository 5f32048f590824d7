import type { Place } from '../state/route.svelte.ts';

/** A place of the program, in the order of the job. `owns`: the kinds of address that belong to it. */
export interface PlaceEntry {
  readonly label: string;
  readonly icon: 'shelf' | 'core' | 'bench' | 'plan' | 'compare' | 'workings' | 'meters' | 'practice';
  readonly owns: readonly Place['kind'][];
}

export const placeEntries: readonly PlaceEntry[] = [
  { label: 'Shelf', icon: 'shelf', owns: ['shelf', 'new-core'] },
  { label: 'Core', icon: 'core', owns: ['core', 'edit-core', 'run', 'wound'] },
  { label: 'Bench', icon: 'bench', owns: ['bench'] },
  { label: 'Plan', icon: 'plan', owns: ['plan', 'several', 'tally'] },
  { label: 'Compare', icon: 'compare', owns: ['compare'] },
  { label: 'Workings', icon: 'workings', owns: ['workings'] },
  { label: 'Meters', icon: 'meters', owns: ['meters', 'meter', 'new-meter'] },
  { label: 'Practice', icon: 'practice', owns: ['practice'] },
];
