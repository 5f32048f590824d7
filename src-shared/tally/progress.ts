import type { PlannedOutput } from '../record/planned-output.ts';

/** Where in its winding a turn lies. Layers and turns count from 1. */
export interface TurnPlace {
  readonly layer: number;
  readonly layers: number;
  /** Turns laid in this layer, and how many it takes. */
  readonly inLayer: number;
  readonly ofLayer: number;
}

type Wound = Pick<PlannedOutput, 'turns' | 'layers'>;

/**
 * Where the last of so many turns lies: the layer that is full counts as that layer, the next turn begins the next one. 0 turns
 * lie at the beginning of the first layer; more than the layers hold stay in the last.
 */
export function placeOf({ layers }: Wound, turns: number): TurnPlace {
  let before = 0;
  for (const [index, { turns: ofLayer }] of layers.entries()) {
    if (turns <= before + ofLayer || index === layers.length - 1) {
      return { layer: index + 1, layers: layers.length, inLayer: turns - before, ofLayer };
    }
    before += ofLayer;
  }
  return { layer: 1, layers: 1, inLayer: turns, ofLayer: turns };
}

/** Something to do at a turn of a winding. */
export type Milestone =
  | { readonly kind: 'tap'; readonly at: number; readonly label: string }
  /** A layer is full and the next one follows. */
  | { readonly kind: 'layer'; readonly at: number; readonly next: number }
  | { readonly kind: 'end'; readonly at: number };

/** Everything to do while an output is wound, in the order of its turns; at one turn the tap comes first. */
export function milestonesOf({
  turns,
  layers,
  taps,
}: Pick<PlannedOutput, 'turns' | 'layers' | 'taps'>): readonly Milestone[] {
  const ends = layers.slice(0, -1).map(({ turns: ofLayer }, index, all): Milestone => {
    const before = all.slice(0, index).reduce((sum, layer) => sum + layer.turns, 0);
    return { kind: 'layer', at: before + ofLayer, next: index + 2 };
  });
  const order = { tap: 0, layer: 1, end: 2 } as const;
  return [
    ...taps.map(({ turns: at, label }): Milestone => ({ kind: 'tap', at, label })),
    ...ends.filter(({ at }) => at < turns),
    { kind: 'end', at: turns } as const,
  ].toSorted((one, other) => one.at - other.at || order[one.kind] - order[other.kind]);
}

/** What comes next after so many turns; null when everything is wound. */
export const nextMilestone = (output: Parameters<typeof milestonesOf>[0], turns: number): Milestone | null =>
  milestonesOf(output).find(({ at }) => at > turns) ?? null;
