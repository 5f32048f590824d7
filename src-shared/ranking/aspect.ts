/**
 * How far a core does what a need asks, in one respect, best first. `close`: within the doubt of the figure, or after a
 * change that is named. `minutes`: for minutes, where hours are asked.
 */
export type Grade = 'met' | 'close' | 'not-known' | 'minutes' | 'not-met';

/** Respects in which a core is held against a need, in the order in which they are shown. */
export const aspectKinds = ['mass', 'iron-and-window', 'flux', 'window', 'heat', 'circuit', 'insulation'] as const;
export type AspectKind = (typeof aspectKinds)[number];

/** One core in one respect. */
export interface Aspect {
  readonly kind: AspectKind;
  readonly grade: Grade;
  /** What the need takes of what the core has: 1 is all of it. Null where either is not known. */
  readonly share: number | null;
  /** The reason, with its numbers. */
  readonly words: string;
  /** What would have to give, or be done, for it to be met, fewer amps aside; null where nothing else would. */
  readonly gives: string | null;
  /** Amps of the need at which it would be met; absent where it is met, or where fewer amps do not help. */
  readonly mostAmps?: number;
}

/** Where a figure stands against what is asked: shares up to `from` are met, up to `to` close. */
export const gradeOf = (share: number, from = 1, to = from): Grade =>
  share <= from ? 'met' : share <= to ? 'close' : 'not-met';

export const notKnown = (kind: AspectKind, words: string): Aspect => ({
  kind,
  grade: 'not-known',
  share: null,
  words,
  gives: null,
});
