import type { CoreFields } from '../../../src-shared/record/core.ts';

/** What a core is good for over minutes, in words, and what that rests on. */
export interface ShortTermPower {
  readonly words: string;
  readonly basis: string;
}

export const shortTermPower = (_fields: CoreFields): ShortTermPower | null => null;
