import type { CoreSize } from './core-size.ts';

/** A rectangle in mm, from the top left corner of the outline; x to the right, y down. */
export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** One side of the wound limb: x of its edge, which way is outwards, and the room for windings there. */
export interface Side {
  readonly edge: number;
  readonly away: -1 | 1;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The section of a core through its windows, in mm. */
export interface Section {
  readonly width: number;
  readonly height: number;
  /** True when every length that makes up the outline was measured. */
  readonly isOutlineMeasured: boolean;
  readonly windows: readonly Rect[];
  readonly areWindowsMeasured: boolean;
  /** The limb that carries the windings. */
  readonly limb: Rect;
  /** The two sides of that limb on which its windings lie: where the limb ends, and the room beyond it. */
  readonly sides: readonly Side[];
  /** A ring instead of rectangles; radii in mm. */
  readonly ring: { readonly outer: number; readonly inner: number } | null;
}

/**
 * The section of a core. A shell core has a tongue, two windows, and half a tongue of iron all round; a two-limb core
 * has one window with a full limb all round, and the other half of its winding lies outside; a toroid is a ring whose inner diameter is the window width and whose
 * radial thickness is the tongue.
 */
export function sectionOf(size: CoreSize): Section {
  const [t, w, h] = [size.tongue.mm, size.windowWidth.mm, size.windowHeight.mm];
  const areWindowsMeasured = size.windowWidth.isMeasured && size.windowHeight.isMeasured;
  const isOutlineMeasured = size.tongue.isMeasured && areWindowsMeasured && size.shape !== 'unknown';
  if (size.shape === 'toroid') {
    const outer = w / 2 + t;
    return {
      width: 2 * outer,
      height: 2 * outer,
      isOutlineMeasured: size.tongue.isMeasured && size.windowWidth.isMeasured,
      windows: [],
      areWindowsMeasured: size.windowWidth.isMeasured,
      limb: { x: 0, y: outer - t / 2, width: t, height: t },
      sides: [],
      ring: { outer, inner: w / 2 },
    };
  }
  if (size.shape === 'two-limb') {
    return {
      width: 2 * t + w,
      height: h + 2 * t,
      isOutlineMeasured,
      windows: [{ x: t, y: t, width: w, height: h }],
      areWindowsMeasured,
      limb: { x: 0, y: t, width: t, height: h },
      sides: [
        { edge: 0, away: -1, top: t, width: w, height: h },
        { edge: t, away: 1, top: t, width: w, height: h },
      ],
      ring: null,
    };
  }
  return {
    width: 2 * t + 2 * w,
    height: h + t,
    isOutlineMeasured,
    windows: [
      { x: t / 2, y: t / 2, width: w, height: h },
      { x: 1.5 * t + w, y: t / 2, width: w, height: h },
    ],
    areWindowsMeasured,
    limb: { x: t / 2 + w, y: t / 2, width: t, height: h },
    sides: [
      { edge: t / 2 + w, away: -1, top: t / 2, width: w, height: h },
      { edge: 1.5 * t + w, away: 1, top: t / 2, width: w, height: h },
    ],
    ring: null,
  };
}
