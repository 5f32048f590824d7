import * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';

/** What may lie behind a reading, one word a cause: the same cause has the same word wherever it is suspected. */
const causeCodes = [
  'opposed-turns',
  'joint-gap',
  'shorted-turn',
  'opposed-strands',
  'soft-supply',
  'more-turns',
  'other-hertz',
  'shunts',
  'lug',
  'feed-joint',
  'house-sag',
  'other-metal',
  'wrong-figures',
  'half-turn',
  'miscounted-coil',
  'drifting-meter',
  'swapped-lead',
  'leak',
  'end-on-core',
  'bad-earth',
] as const;
export type CauseCode = (typeof causeCodes)[number];

/** One thing that may lie behind a reading: what it would read, and whether that is what was seen. */
const Suspicion = v.strictObject({
  code: v.picklist(causeCodes),
  cause: v.string(),
  fits: v.boolean(),
  /** Which reading would tell it from the others. */
  decides: v.string(),
});
export type Suspicion = Readonly<v.InferOutput<typeof Suspicion>>;

/** What was expected, what was seen, and what may lie behind the difference, in bench words. */
export const FaultReading = v.strictObject({
  title: v.string(),
  /** Nothing to look for: it is as expected. */
  isAsExpected: v.boolean(),
  suspicions: v.pipe(v.array(Suspicion), v.readonly()),
});
export type FaultReading = Readonly<v.InferOutput<typeof FaultReading>>;

/** A current or a resistance within this part of the expected one is as expected: common practice, no source. */
export const asExpected = 0.25;

export const n = (value: number): string => formatNumber(value, 2);
export const n3 = (value: number): string => formatNumber(value, 3);

/** A reading that is as it should be. */
export const allWell = (title: string): FaultReading => ({ title, isAsExpected: true, suspicions: [] });

/** A reading that is not: what fits first. */
export const suspect = (title: string, suspicions: readonly (Suspicion | null)[]): FaultReading => ({
  title,
  isAsExpected: false,
  suspicions: suspicions.filter((one) => one !== null).sort((one, other) => Number(other.fits) - Number(one.fits)),
});
