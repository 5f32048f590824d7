/** A set of characters as closed ranges of code units, or everything outside them. */
export interface CharSet {
  readonly ranges: readonly (readonly [number, number])[];
  readonly isNegated: boolean;
}

const digit = [0x30, 0x39] as const;
const word = [digit, [0x41, 0x5a], [0x5f, 0x5f], [0x61, 0x7a]] as const;
const space = [
  [0x09, 0x0d],
  [0x20, 0x20],
  [0xa0, 0xa0],
  [0x1680, 0x1680],
  [0x2000, 0x200a],
  [0x2028, 0x2029],
  [0x202f, 0x202f],
  [0x205f, 0x205f],
  [0x3000, 0x3000],
  [0xfeff, 0xfeff],
] as const;
/** The classes that a backslash names. */
export const classes: Readonly<Record<string, CharSet>> = {
  d: { ranges: [digit], isNegated: false },
  D: { ranges: [digit], isNegated: true },
  w: { ranges: word, isNegated: false },
  W: { ranges: word, isNegated: true },
  s: { ranges: space, isNegated: false },
  S: { ranges: space, isNegated: true },
};
/** The dot: anything but a line end, as in every pattern language. */
export const anything: CharSet = {
  ranges: [
    [0x0a, 0x0a],
    [0x0d, 0x0d],
    [0x2028, 0x2029],
  ],
  isNegated: true,
};

/** One character. */
export const only = (char: string): CharSet => ({
  ranges: [[char.charCodeAt(0), char.charCodeAt(0)]],
  isNegated: false,
});
/** The ranges of every code unit outside the given ones. */
export const everythingBut = (ranges: CharSet['ranges']): [number, number][] => {
  const sorted = [...ranges].sort(([one], [other]) => one - other);
  const gaps: [number, number][] = [];
  let next = 0;
  for (const [from, to] of sorted) {
    if (from > next) gaps.push([next, from - 1]);
    next = Math.max(next, to + 1);
  }
  return next <= 0xffff ? [...gaps, [next, 0xffff]] : gaps;
};
