/** A few points with what was fitted through them, as a picture. All numbers are in the units of the axes. */
export interface Plot {
  readonly title: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly points: readonly PlotPoint[];
  readonly lines: readonly PlotLine[];
}

export interface Axis {
  readonly label: string;
  readonly unit: string;
  /** The axis counts things: marks at whole numbers only. */
  readonly isCount?: true;
}

export interface PlotPoint {
  readonly x: number;
  readonly y: number;
  /** Standard uncertainty along y; null or 0: none is drawn. */
  readonly u: number | null;
}

export interface PlotLine {
  /** `fit`: what was fitted; `end`: where it tends; `limit`: not to be passed; `bound`: an end of an interval. */
  readonly kind: 'fit' | 'end' | 'limit' | 'bound';
  readonly label: string;
  readonly points: readonly { readonly x: number; readonly y: number }[];
}

/** A line through a function, from and to. */
export const lineThrough = (from: number, to: number, at: (x: number) => number, steps = 60): PlotLine['points'] =>
  Array.from({ length: steps + 1 }, (_, step) => {
    const x = from + ((to - from) * step) / steps;
    return { x, y: at(x) };
  });

export const level = (from: number, to: number, y: number): PlotLine['points'] => [
  { x: from, y },
  { x: to, y },
];
