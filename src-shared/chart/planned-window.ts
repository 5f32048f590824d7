import type { PlanFields } from '../record/plan.ts';
import type { PlannedOutput, PlannedWire } from '../record/planned-output.ts';
import type { Place } from './strands-path.ts';

/** One strand seen from its end, in mm: over its insulation, and the metal in it. */
export interface StrandSize {
  readonly kind: PlannedWire['kind'];
  readonly along: number;
  readonly out: number;
  readonly bareAlong: number;
  readonly bareOut: number;
}

/** One layer of a planned winding as it lies in the window. */
export interface PlannedRow {
  readonly output: string;
  /** Counts from 1 within its output. */
  readonly layer: number;
  readonly from: number;
  readonly depth: number;
  readonly strand: StrandSize;
  readonly middles: readonly Place[];
}

/** Turns laid by hand take this much of the limb over their own width: common practice, no source. */
export const handSpacing = 1.05;

function strandSize(wire: PlannedWire): StrandSize {
  const { kind } = wire;
  if (kind === 'strip') {
    const { overallWidthMm: along, overallThicknessMm: out, widthMm, thicknessMm } = wire;
    return { kind, along, out, bareAlong: widthMm, bareOut: thicknessMm };
  }
  const bare = kind === 'round' ? wire.bareDiameterMm : 2 * Math.sqrt(wire.areaMm2 / Math.PI);
  return { kind, along: wire.overallMm, out: wire.overallMm, bareAlong: bare, bareOut: bare };
}

/**
 * The middle of every strand of an output, layer by layer: down the first, up the second, as it is wound. Begins at the
 * upper margin; lies closer than by hand only where the plan says that it must.
 */
function rowsOf(output: PlannedOutput, heightMm: number): readonly PlannedRow[] {
  const { key, wire, layers, marginMm } = output;
  const strand = strandSize(wire);
  const abreast = wire.strands / wire.strandsDeep;
  const perLayer = Math.ceil(Math.max(...layers.map(({ turns }) => turns)));
  const room = Math.max(0, heightMm - 2 * marginMm);
  const pitch = Math.min(strand.along * abreast * handSpacing, room / perLayer);
  return layers.map(({ turns, fromMm, depthMm }, index) => ({
    output: key,
    layer: index + 1,
    from: fromMm,
    depth: depthMm,
    strand,
    middles: Array.from({ length: Math.ceil(turns) }, (_, place) => {
      const row = index % 2 === 0 ? place : perLayer - 1 - place;
      return Array.from({ length: wire.strands }, (_unused, nth) => ({
        x: fromMm + (Math.floor(nth / abreast) + 0.5) * (depthMm / wire.strandsDeep),
        y: marginMm + row * pitch + ((nth % abreast) + 0.5) * (pitch / abreast),
      }));
    }).flat(),
  }));
}

/** Every layer of a plan in its window, in mm from the corner at the limb. */
export const plannedRows = ({ outputs, window }: Pick<PlanFields, 'outputs' | 'window'>): readonly PlannedRow[] =>
  outputs.flatMap((output) => rowsOf(output, window.heightMm));
