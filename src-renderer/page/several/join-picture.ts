import type { Way } from '../../../src-shared/joining/way.ts';

/** A line of the picture, as its corners. */
export type Corners = readonly (readonly [number, number])[];

/** One coil: the middle of it, its two ends, and on which side of the core it lies. */
export interface Coil {
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  readonly side: 'primary' | 'secondary';
  /** Of the unit that it belongs to. */
  readonly unit: number;
}

/** What is joined to what, in pixels of the picture. */
export interface JoinPicture {
  readonly width: number;
  readonly height: number;
  readonly coils: readonly Coil[];
  /** Iron between the coils, one for each core. */
  readonly cores: readonly { readonly x: number; readonly top: number; readonly bottom: number }[];
  readonly wires: readonly Corners[];
  /** Points where wires meet. */
  readonly joints: readonly (readonly [number, number])[];
  /** The link that is closed last, and where its name stands; null where there is none. */
  readonly lastLink: {
    readonly x: number;
    readonly y: number;
    readonly label: readonly [number, number];
  } | null;
  /** Ends of the supply and of the load, top and bottom. */
  readonly supply: readonly [number, number];
  readonly load: readonly [number, number] | null;
}

const coilHeight = 72;
const step = 118;
const above = 34;
const at = {
  supply: 26,
  railTop: 62,
  railBottom: 84,
  primary: 140,
  core: 168,
  secondary: 196,
  near: 246,
  far: 270,
  load: 330,
};

const topOf = (unit: number): number => above + unit * step;
const bottomOf = (unit: number): number => topOf(unit) + coilHeight;

/** Coils of one side side by side on the same two lines: a rail for the tops, a rail for the bottoms. */
function sideBySide(count: number, coil: number, rails: readonly [number, number], out: number) {
  const units = Array.from({ length: count }, (_, unit) => unit);
  const [top, bottom] = rails;
  const wires: Corners[] = [
    ...units.flatMap((unit): Corners[] => [
      [
        [coil, topOf(unit)],
        [top, topOf(unit)],
      ],
      [
        [coil, bottomOf(unit)],
        [bottom, bottomOf(unit)],
      ],
    ]),
    [
      [top, topOf(0)],
      [top, topOf(count - 1)],
    ],
    [
      [bottom, bottomOf(0)],
      [bottom, bottomOf(count - 1)],
    ],
    [
      [top, topOf(0)],
      [out, topOf(0)],
    ],
    [
      [bottom, bottomOf(count - 1)],
      [out, bottomOf(count - 1)],
    ],
  ];
  const joints = units.flatMap((unit): (readonly [number, number])[] => [
    ...(unit < count - 1 ? ([[top, topOf(unit)]] as const) : []),
    ...(unit > 0 ? ([[bottom, bottomOf(unit)]] as const) : []),
  ]);
  return { wires, joints };
}

/** Coils of one side one after the other: the end of each to the beginning of the next. */
function oneAfterAnother(count: number, coil: number, turn: number, out: number) {
  const wires: Corners[] = [
    [
      [coil, topOf(0)],
      [out, topOf(0)],
    ],
    ...Array.from({ length: count - 1 }, (_, unit): Corners => [
      [coil, bottomOf(unit)],
      [turn, bottomOf(unit)],
      [turn, topOf(unit + 1)],
      [coil, topOf(unit + 1)],
    ]),
    [
      [coil, bottomOf(count - 1)],
      [out, bottomOf(count - 1)],
    ],
  ];
  return { wires, joints: [] };
}

/** The circuit of one way of joining so many units. */
export function joinPicture(way: Way, count: number, stackSupply: 'same' | 'double'): JoinPicture {
  const units = Array.from({ length: count }, (_, unit) => unit);
  const isStack = way === 'double-stack';
  const inSeries = way === 'double-supply' || (isStack && stackSupply === 'double');
  const left = inSeries
    ? oneAfterAnother(count, at.primary, at.railBottom, at.supply)
    : sideBySide(count, at.primary, [at.railTop, at.railBottom], at.supply);
  const right = isStack
    ? { wires: [], joints: [] }
    : way === 'parallel'
      ? sideBySide(count, at.secondary, [at.far, at.near], at.load)
      : oneAfterAnother(count, at.secondary, at.near, at.load);
  const coil = (side: Coil['side'], unit: number): Coil => ({
    x: at[side],
    top: topOf(unit),
    bottom: bottomOf(unit),
    side,
    unit,
  });
  const [top, bottom] = [topOf(0), bottomOf(count - 1)];
  return {
    width: at.load + 40,
    height: bottom + 30,
    coils: [
      ...units.map((unit) => coil('primary', unit)),
      ...(isStack ? [] : units.map((unit) => coil('secondary', unit))),
    ],
    cores: isStack
      ? [{ x: at.core, top: top - 8, bottom: bottom + 8 }]
      : units.map((unit) => ({ x: at.core, top: topOf(unit) - 4, bottom: bottomOf(unit) + 4 })),
    wires: [...left.wires, ...right.wires],
    joints: [...left.joints, ...right.joints],
    lastLink:
      way === 'parallel'
        ? { x: (at.near + at.far) / 2, y: topOf(count - 1), label: [at.far + 6, topOf(count - 1) + 22] }
        : isStack && !inSeries
          ? {
              x: (at.railBottom + at.primary) / 2,
              y: topOf(count - 1),
              label: [at.railBottom + 2, topOf(count - 1) + 20],
            }
          : null,
    supply: [top, bottom],
    load: isStack ? null : [top, bottom],
  };
}

/** A coil as half circles from its top to its bottom, bulging away from the core. */
export function coilPath({ x, top, bottom, side }: Coil): string {
  const bumps = 4;
  const radius = (bottom - top) / bumps / 2;
  const sweep = side === 'primary' ? 0 : 1;
  return `M${x} ${top}${Array.from({ length: bumps }, () => `a${radius} ${radius} 0 0 ${sweep} 0 ${2 * radius}`).join('')}`;
}

export const wirePath = (corners: Corners): string => `M${corners.map((corner) => corner.join(' ')).join('L')}`;
