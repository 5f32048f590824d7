/** The one thing the hosts want of a clock: to act later. Returns what calls it off. */
export type Later = (ms: number, act: () => void) => () => void;
