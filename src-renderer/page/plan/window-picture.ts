import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { SecondaryChoice } from '../../../src-shared/calculation/secondary/choice.ts';
import type { PlanNumbers } from './plan-asked.ts';
import { roomInput, type Place } from './plan-question.ts';
import type { AddedWinding, PlannedAll } from './planned.ts';

/** A box in mm: x from the limb outwards, y down from the top of the window. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** One winding in the window. */
export interface WindingPicture {
  /** Of its output; `primary` for added primary turns. */
  readonly key: string;
  /** Base, and between layers. */
  readonly insulation: readonly Box[];
  readonly margins: readonly Box[];
  /** Layer by layer: the middles of its strands. */
  readonly layers: readonly (readonly { readonly x: number; readonly y: number }[])[];
  readonly strand: Strand;
  /** From its base to the outside of its last layer. */
  readonly from: number;
  readonly to: number;
}

/** One window drawn turn by turn, in mm from its corner at the limb. */
export interface WindowPicture {
  readonly width: number;
  readonly height: number;
  /** What lies underneath, from the limb to the free room; null when nothing does. */
  readonly under: Box | null;
  readonly windings: readonly WindingPicture[];
  readonly clearance: Box | null;
  /** What is left between the last layer and the clearance; null when nothing is. */
  readonly left: Box | null;
}

/** One strand seen from its end, in mm. */
export interface Strand {
  readonly kind: SecondaryChoice['kind'];
  readonly along: number;
  readonly out: number;
  /** The metal in it. */
  readonly bareAlong: number;
  readonly bareOut: number;
}

/** A winding as `window-fit` is asked for it. */
interface Laid {
  readonly key: string;
  readonly place: Place;
  readonly turns: number;
  readonly strands: number;
  readonly strandsDeep: number;
  readonly strand: Strand;
}

function strandOf({ kind, alongMm: along, outMm: out, areaMm2 }: SecondaryChoice): Strand {
  if (kind !== 'strip') {
    const bare = 2 * Math.sqrt(areaMm2 / Math.PI);
    return { kind, along, out, bareAlong: bare, bareOut: bare };
  }
  // Insulation i adds the same to both sides: (along − i)(out − i) is the area of the metal.
  const insulation = (along + out - Math.sqrt((along - out) ** 2 + 4 * areaMm2)) / 2;
  return { kind, along, out, bareAlong: along - insulation, bareOut: out - insulation };
}

const laidAdded = ({ place, turns, bareMm, overallMm }: AddedWinding): Laid => ({
  ...{ key: 'primary', place, turns, strands: 1, strandsDeep: 1 },
  strand: { kind: 'round', along: overallMm, out: overallMm, bareAlong: bareMm, bareOut: bareMm },
});

/** One winding as `window-fit` lays it; null when that refuses. */
function windingPicture(numbers: PlanNumbers, laid: Laid): WindingPicture | null {
  const { interlayer = 0, margin = 0, windowHeight: height = 0 } = numbers;
  const { key, place, turns, strands, strandsDeep, strand } = laid;
  const { innerMm: inner, baseMm: base } = place;
  const size =
    strand.kind === 'strip'
      ? { stripWidthMm: strand.along, stripThicknessMm: strand.out }
      : { overallDiameterMm: strand.along };
  const fit = calculate('window-fit', { ...roomInput(numbers, place), ...size, turns, strands, strandsDeep });
  if (!fit.ok) return null;
  const { placed, turnsPerLayer, layers: count, buildHeight } = fit.results;
  const perLayer = turnsPerLayer * strands;
  const layers = Array.from({ length: placed.length === 0 ? 0 : count }, (_, layer) => {
    const first = layer * perLayer;
    const last = Math.min(placed.length / 2, first + perLayer);
    return Array.from({ length: last - first }, (_unused, at) => ({
      x: inner + (placed[2 * (first + at)] ?? 0),
      y: placed[2 * (first + at) + 1] ?? 0,
    }));
  });
  const depth = strandsDeep * strand.out;
  const strip = (x: number, width: number): Box => ({ x, y: margin / 2, width, height: height - margin });
  return {
    ...{ key, layers, strand, from: inner, to: inner + buildHeight.value },
    insulation: [
      ...(base > 0 ? [strip(inner, base)] : []),
      ...(interlayer > 0
        ? layers.slice(1).map((_, layer) => strip(inner + base + (layer + 1) * depth + layer * interlayer, interlayer))
        : []),
    ],
    margins:
      margin > 0
        ? [0, height - margin].map((y) => ({ x: inner + base, y, width: buildHeight.value - base, height: margin }))
        : [],
  };
}

/** The window with everything that is planned in it, each on top of the one before; null while there is nothing. */
export function windowPicture(
  numbers: PlanNumbers,
  { added, outputs }: PlannedAll,
  keys: readonly string[],
): WindowPicture | null {
  const { windowWidth = 0, windowHeight: height = 0, inner = 0, clearance = 0 } = numbers;
  const laid = [
    ...(added === null ? [] : [laidAdded(added)]),
    ...outputs.flatMap((state, at): readonly Laid[] => {
      if (state.kind !== 'done') return [];
      const { place, choice } = state;
      const { turns, strands, strandsDeep } = choice;
      return [{ key: keys[at] ?? '', place, turns, strands, strandsDeep, strand: strandOf(choice) }];
    }),
  ];
  const windings = laid.flatMap((each) => windingPicture(numbers, each) ?? []);
  const end = windings.at(-1)?.to;
  if (end === undefined) return null;
  const left = inner + windowWidth - clearance - end;
  return {
    width: inner + windowWidth,
    height,
    under: inner > 0 ? { x: 0, y: 0, width: inner, height } : null,
    windings,
    clearance: clearance > 0 ? { x: inner + windowWidth - clearance, y: 0, width: clearance, height } : null,
    left: left > 0 ? { x: end, y: 0, width: left, height } : null,
  };
}
