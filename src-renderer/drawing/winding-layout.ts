import type { WindingFields } from '../../src-shared/record/build.ts';

/** A winding as the drawing needs it. */
export interface WindingToDraw {
  readonly id: number;
  /** Wires that pass the window: whole turns times strands in hand; null when not known. */
  readonly turns: number | null;
  /** Bare wire diameter in mm; null when not known. */
  readonly diameter: number | null;
}

/** Where the turns of a winding lie, in mm: x away from the limb, y down from the top of the window. */
export type LaidWinding =
  | {
      readonly kind: 'turns';
      readonly id: number;
      readonly radius: number;
      readonly centres: readonly { readonly x: number; readonly y: number }[];
      readonly from: number;
      readonly to: number;
    }
  /** Turns, wire or both are not known: only that it takes room. */
  | { readonly kind: 'block'; readonly id: number; readonly from: number; readonly to: number };

/** The windings of one window from the limb outwards. */
export interface WindowLayout {
  readonly laid: readonly LaidWinding[];
  /** Strips of insulation, x from and to. */
  readonly insulation: readonly { readonly from: number; readonly to: number }[];
  /** Height that is left free at the top and at the bottom, in mm. */
  readonly margin: number;
  /** The turns that are known do not fit as drawn: they are drawn as blocks. */
  readonly isOverfull: boolean;
}

/** Room that the drawing gives to what nobody measured, in mm: former and layer insulation, ends, film on the wire. */
const assumed = { former: 1, between: 0.7, end: 1.5, filmShare: 1.05 };

/** More circles than a screen can show; drawn as a block instead. */
const mostTurnsDrawn = 6000;

/** What to draw of a winding: whole turns if they are known at all, estimated ones rounded, every strand of them. */
export function windingToDraw(id: number, fields: WindingFields): WindingToDraw {
  const { turns } = fields;
  const count = turns.kind === 'unknown' ? null : Math.round(turns.kind === 'counted' ? turns.turns : turns.value);
  const wires = count === null ? null : count * (fields.strands ?? 1);
  return { id, turns: wires, diameter: fields.bareDiameter?.value ?? null };
}

interface Sized {
  readonly winding: WindingToDraw;
  /** Height that its layers need; null when it cannot be told. */
  readonly depth: number | null;
  readonly perLayer: number;
  readonly pitch: number;
}

function sizeOf(winding: WindingToDraw, free: number): Sized {
  const { turns, diameter } = winding;
  if (turns === null || diameter === null || turns > mostTurnsDrawn) {
    return { winding, depth: null, perLayer: 0, pitch: 0 };
  }
  const pitch = diameter * assumed.filmShare;
  const perLayer = Math.floor(free / pitch);
  return { winding, depth: perLayer < 1 ? null : Math.ceil(turns / perLayer) * pitch, perLayer, pitch };
}

function lay({ winding, perLayer, pitch }: Sized, from: number, to: number, top: number, free: number): LaidWinding {
  const turns = winding.turns ?? 0;
  const spread = perLayer > 1 ? Math.min(free / perLayer, pitch * 1.15) : pitch;
  const first = top + (free - spread * perLayer) / 2 + spread / 2;
  const centres = Array.from({ length: turns }, (_, turn) => {
    const layer = Math.floor(turn / perLayer);
    const place = turn % perLayer;
    const row = layer % 2 === 0 ? place : perLayer - 1 - place;
    return { x: from + (layer + 0.5) * pitch, y: first + row * spread };
  });
  return { kind: 'turns', id: winding.id, radius: (winding.diameter ?? 0) / 2, centres, from, to };
}

/**
 * Lays windings into a window, the first nearest the limb: turn by turn where turns and wire are known, as blocks that
 * share what room is left where they are not.
 * @param width - of the window, away from the limb, in mm
 * @param height - of the window, in mm
 */
export function layWindow(windings: readonly WindingToDraw[], width: number, height: number): WindowLayout {
  const margin = Math.min(assumed.end, height / 10);
  const free = height - 2 * margin;
  const sized = windings.map((winding) => sizeOf(winding, free));
  const known = sized.reduce((sum, { depth }) => sum + (depth ?? 0), 0);
  const blocks = sized.filter(({ depth }) => depth === null).length;
  const insulated = Math.min(assumed.former + assumed.between * windings.length, width / 4);
  const isOverfull = known + insulated > width || (blocks > 0 && (width - known - insulated) / blocks < width / 20);
  const share = isOverfull ? width - insulated : width - known - insulated;
  const each = isOverfull ? share / Math.max(1, windings.length) : (share * 0.85) / Math.max(1, blocks);
  const gap = (insulated * assumed.between) / (assumed.former + assumed.between * windings.length);
  let x = insulated - gap * windings.length;
  const insulation = [{ from: x * 0.35, to: x * 0.85 }];
  const laid: LaidWinding[] = [];
  for (const one of sized) {
    const isBlock = isOverfull || one.depth === null;
    const to = x + (isBlock ? each : (one.depth ?? 0));
    laid.push(isBlock ? { kind: 'block', id: one.winding.id, from: x, to } : lay(one, x, to, margin, free));
    insulation.push({ from: to + gap * 0.2, to: to + gap * 0.8 });
    x = to + gap;
  }
  return { laid, insulation: insulation.slice(0, -1), margin, isOverfull };
}

/** Circles of equal radius as one path, so that a thousand turns are one element. */
export const circlesPath = (centres: readonly { readonly x: number; readonly y: number }[], radius: number): string =>
  centres
    .map(({ x, y }) => {
      const [left, r, d] = [x - radius, radius, 2 * radius].map((n) => Number(n.toFixed(3)));
      return `M${left} ${Number(y.toFixed(3))}a${r} ${r} 0 1 0 ${d} 0a${r} ${r} 0 1 0 -${d} 0`;
    })
    .join('');
