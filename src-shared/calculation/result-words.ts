import { measuredWords } from './words/measured.ts';
import { plannedWords } from './words/planned.ts';
import type { ResultWords } from './words/word.ts';

/** Words of every result, by calculation and key. */
export const resultWords: Readonly<Record<string, ResultWords>> = { ...measuredWords, ...plannedWords };
