/** Why a line, or one value of it, was not read. Added to, never renamed: records and pages keep these. */
export const unreadableReasons = {
  blank: 'There is nothing on it.',
  dashes: 'The meter shows dashes: it has no value at this moment.',
  'no-number': 'There is no number on it.',
  'bad-number': 'It starts like a number but is not one.',
  comma: 'A comma stands inside the number. If it is a decimal comma, set the decimal mark to comma.',
  point: 'A point stands inside the number, but this meter is described with a decimal comma.',
  'digits-apart': 'Digits are set apart by a space, so it could be one number or two.',
  'several-values': 'There is more than one value on it. Describe which value is which.',
  'out-of-bounds': 'The number is beyond anything that a meter shows.',
  'not-a-number': 'The meter says that it has no number.',
  'unknown-unit': 'The unit is not known.',
  'ambiguous-unit': 'F could be farad or degrees Fahrenheit. Fahrenheit is written °F or degF.',
  'ambiguous-prefix': 'The prefix could be milli or mega: instruments differ in the meaning of its case.',
  'contradicting-marks': 'Its AC and DC marks contradict each other or do not go with the unit.',
  'text-before': 'There is text before the number. A label ends with : or =.',
  'text-after': 'There is text after the value.',
  'unit-apart': 'The line has words of its own beside the bare number, perhaps its unit.',
  'unit-missing': 'The number has no unit, and the meter is not described as sending bare numbers.',
  'no-match': 'The pattern does not fit it.',
  'cut-number': 'The pattern takes only a part of the number.',
  'value-missing': 'The value that was described is not on the line.',
  'wrong-unit': 'It is in another unit than was expected.',
} as const satisfies Record<string, string>;

export type UnreadableReason = keyof typeof unreadableReasons;

/** A line or value that was not read, with the reason, and the column (from 0) where reading stopped. */
export interface Unreadable {
  readonly kind: 'unreadable';
  readonly why: UnreadableReason;
  readonly at: number;
  readonly text: string;
  /** Numbers or words that belong to the reason, such as both units. */
  readonly detail?: string;
}

/** The sentence that a person reads beside the line. */
export function sentenceOf({ why, detail }: Pick<Unreadable, 'why' | 'detail'>): string {
  return detail === undefined ? unreadableReasons[why] : `${unreadableReasons[why]} ${detail}`;
}
