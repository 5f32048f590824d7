/** The mark between whole and fraction. The other mark between digits is refused, never guessed. */
export const decimalMarks = ['point', 'comma'] as const;
export type DecimalMark = (typeof decimalMarks)[number];
