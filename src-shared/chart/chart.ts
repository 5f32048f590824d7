/** What a curve is drawn in: ink for a reading, the colour of the material where it is one. */
export type Ink = 'ink' | 'copper' | 'steel';

/** How a line is broken, so that several can be told apart without colour. */
export const dashes = {
  solid: [],
  dashed: [7, 4],
  dotted: [2, 4],
  'dash-dot': [9, 4, 2, 4],
  long: [14, 5],
  short: [4, 3],
} as const satisfies Readonly<Record<string, readonly number[]>>;
export type Dash = keyof typeof dashes;
export const dashNames = ['solid', 'dashed', 'dotted', 'dash-dot', 'long', 'short'] as const satisfies readonly Dash[];

/** One curve: columns of equal length, `x` ascending; a null in `y` is a gap. */
export interface Curve {
  readonly id: string;
  readonly label: string;
  /** Curves of one unit share an axis. */
  readonly unit: string;
  /** Its own axis, apart from others of its unit; absent for the usual one. */
  readonly lane?: string;
  readonly ink: Ink;
  readonly dash: Dash;
  /** `points` are not joined. */
  readonly form: 'line' | 'points';
  readonly x: readonly number[];
  readonly y: readonly (number | null)[];
}

/** An area between two curves of one unit: what is known of a value. */
export interface Band {
  readonly label: string;
  readonly unit: string;
  readonly ink: Ink;
  readonly x: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** A value drawn across, with its word. */
export interface Level {
  readonly kind: 'limit' | 'warn' | 'value';
  readonly unit: string;
  /** The lane of the curve that it bounds, where that has its own. */
  readonly lane?: string;
  readonly value: number;
  readonly word: string;
  /** Where it begins and ends; null is the edge of the drawing. */
  readonly fromX: number | null;
  readonly toX: number | null;
}

export const markKinds = ['power', 'note', 'kept', 'trip', 'point'] as const;

/** An instant or place on the x axis, with its shape and its word. */
export interface Mark {
  readonly kind: (typeof markKinds)[number];
  readonly x: number;
  readonly word: string;
}

/** Time in ms since the start of a run (`said`: what is to be said of it, such as that it is simulated), or a quantity in its unit. */
export type XAxis =
  | { readonly kind: 'time'; readonly said: string | null }
  | { readonly kind: 'quantity'; readonly label: string; readonly unit: string };

/** Everything that one drawing shows, the same on the screen and on paper. */
export interface Chart {
  readonly title: string;
  readonly xAxis: XAxis;
  readonly fromX: number;
  readonly toX: number;
  readonly curves: readonly Curve[];
  readonly bands: readonly Band[];
  readonly levels: readonly Level[];
  readonly marks: readonly Mark[];
}
