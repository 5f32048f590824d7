import type { PlanFields } from '../record/plan.ts';
import type { PlannedOutput } from '../record/planned-output.ts';

/** A winding as it is counted; without layers where the plan lays none. */
export type Wound = Pick<PlannedOutput, 'key' | 'label' | 'turns' | 'layers' | 'taps'>;

/** What the added primary turns are counted by; outputs have letters. */
export const addedKey = 'primary';

/** Everything of a plan that is wound, in order: turns that are added to the primary lie under the outputs. */
export const woundOf = ({ addedTurns, outputs }: Pick<PlanFields, 'addedTurns' | 'outputs'>): readonly Wound[] => [
  ...(addedTurns > 0 ? [{ key: addedKey, label: 'Added primary turns', turns: addedTurns, layers: [], taps: [] }] : []),
  ...outputs,
];
