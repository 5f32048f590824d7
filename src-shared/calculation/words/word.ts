import type { PhysicalResult } from '../answer.ts';
import type { CalculationName, ResultsOf } from '../table.ts';

/**
 * How results are said to a person: a label for every key, and words for what is not a figure. One row a calculation;
 * the types ask a word of every key, of every choice and of every null.
 */
export interface ResultWord {
  readonly label: string;
  /** Said below it where the label is not enough. */
  readonly help?: string;
  /** Of a plain number, or of every number in a list. */
  readonly unit?: string;
  /** What null says. */
  readonly absent?: string;
  readonly yes?: string;
  readonly no?: string;
  readonly choices?: Readonly<Record<string, string>>;
  /** Words of a group's keys, or of the groups in a list. */
  readonly of?: ResultWords;
  /** The number is a place, counted from 0, in this list of the input. */
  readonly indexOf?: string;
  /** Two numbers: from and to. */
  readonly isRange?: true;
  /** Shown apart, as it is long or of use to few. */
  readonly isMinor?: true;
  /** Shown largest; without one, the first result is. */
  readonly isHead?: true;
}

export type ResultWords = Readonly<Record<string, ResultWord>>;

type Base = Pick<ResultWord, 'label' | 'help' | 'unit' | 'indexOf' | 'isRange' | 'isMinor' | 'isHead'>;
type WordsFor<R> = { readonly [K in keyof R]-?: WordFor<Exclude<R[K], undefined>> };
type WordFor<T> = KindFor<Exclude<T, null>> & (null extends T ? { readonly absent: string } : unknown);
type KindFor<T> = [T] extends [PhysicalResult]
  ? Base
  : [T] extends [readonly (infer Item)[]]
    ? WordFor<Item>
    : [T] extends [boolean]
      ? Base & { readonly yes: string; readonly no: string }
      : [T] extends [string]
        ? string extends T
          ? Base
          : Base & { readonly choices: Readonly<Record<T, string>> }
        : [T] extends [object]
          ? Base & { readonly of: WordsFor<T> }
          : Base;

/** What an absent result says when an input of its own was left out. */
export const notGiven = 'Not told: something it needs was left out.';

/** Rows of words: any calculations, each with a word for everything in its results. */
export type WordRows = { readonly [Name in CalculationName]?: WordsFor<ResultsOf[Name]> };
