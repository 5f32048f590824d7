/** How one winding is laid, lengths in mm: `along` the limb, and `out` from it. */
export interface LayRules {
  readonly turns: number;
  /** One strand with its insulation. */
  readonly strandAlong: number;
  readonly strandOut: number;
  /** Strands of one turn side by side in the layer, and one above the other. */
  readonly strandsAlong: number;
  readonly strandsDeep: number;
  /** Length along the limb that a strand takes over its own: 1 when wound tight. */
  readonly spacing: number;
  readonly interlayer: number;
  /** Insulation under the first layer. */
  readonly base: number;
  /** The limb's length between the margins at both ends. */
  readonly freeAlong: number;
}

export interface Layers {
  /** 0 when not even one turn has room between the margins. */
  readonly turnsPerLayer: number;
  readonly layers: number;
  readonly turnsInLast: number;
}

/** Two lengths nearer than this, relative, are one: a window made for ten turns takes ten. */
const rounding = 1e-9;

export const turnAlong = ({ strandAlong, strandsAlong, spacing }: LayRules): number =>
  strandAlong * strandsAlong * spacing;

/** Full layers from the limb outwards, a turn never split over two; geometry. */
export function layersOf(rules: LayRules): Layers {
  const turnsPerLayer = Math.floor((rules.freeAlong / turnAlong(rules)) * (1 + rounding));
  if (!(turnsPerLayer >= 1)) return { turnsPerLayer: 0, layers: 0, turnsInLast: 0 };
  const layers = Math.ceil(rules.turns / turnsPerLayer);
  return { turnsPerLayer, layers, turnsInLast: rules.turns - (layers - 1) * turnsPerLayer };
}

type Depths = Pick<LayRules, 'strandOut' | 'strandsDeep' | 'interlayer' | 'base'>;

/** From the start of the free room to the outside of the last layer. */
export const buildOf = ({ strandOut, strandsDeep, interlayer, base }: Depths, layers: number): number =>
  base + layers * strandsDeep * strandOut + Math.max(0, layers - 1) * interlayer;

/** From the start of the free room to the middle of a layer, which counts from 0. */
export const middleOf = ({ strandOut, strandsDeep, interlayer, base }: Depths, layer: number): number =>
  base + layer * (strandsDeep * strandOut + interlayer) + (strandsDeep * strandOut) / 2;

/** The mean of the middles over all turns. */
export function meanMiddle(depths: Depths, { layers, turnsPerLayer, turnsInLast }: Layers): number {
  const full = layers - 1;
  const before = full === 0 ? 0 : full * turnsPerLayer * middleOf(depths, (full - 1) / 2);
  return (before + turnsInLast * middleOf(depths, full)) / (full * turnsPerLayer + turnsInLast);
}

/** Most turns that the room `freeOut` takes; 0 when not even one. */
export function mostTurns(rules: LayRules, freeOut: number): number {
  const { turnsPerLayer } = layersOf(rules);
  const step = rules.strandsDeep * rules.strandOut + rules.interlayer;
  const layers = Math.floor(((freeOut - rules.base + rules.interlayer) / step) * (1 + rounding));
  return Math.max(0, layers) * turnsPerLayer;
}

/** Layers beyond which no wider strand is looked for: the strand only gets thinner. */
const mostLayers = 2000;

/** The widest round strand of which all turns fit into `freeOut`, in mm; 0 when none does. */
export function widestStrand(rules: LayRules, freeOut: number): number {
  let widest = 0;
  for (let layers = 1; layers <= Math.min(rules.turns, mostLayers); layers += 1) {
    const perLayer = Math.ceil(rules.turns / layers);
    const byAlong = rules.freeAlong / (perLayer * rules.strandsAlong * rules.spacing);
    const byOut = (freeOut - rules.base - (layers - 1) * rules.interlayer) / (layers * rules.strandsDeep);
    if (byOut <= widest) break;
    widest = Math.max(widest, Math.min(byAlong, byOut));
  }
  return widest;
}
