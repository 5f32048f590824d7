import { middleOf, turnAlong, type Layers, type LayRules } from './layers.ts';

/** More strands than anybody can tell apart in a drawing. */
export const mostPlaced = 6000;

/**
 * Middle of every strand as x, y, x, y ... in mm: x from the inner edge of the free room outwards, y from its top. Turn after
 * turn as they are wound: down the first layer, up the second; strands of one turn follow each other.
 * @param marginMm - kept free at the top, where the first layer begins
 */
export function placedStrands(rules: LayRules, { turnsPerLayer }: Layers, marginMm: number): readonly number[] {
  if (turnsPerLayer < 1) return [];
  const pitch = turnAlong(rules);
  const strandPitch = rules.strandAlong * rules.spacing;
  const placed: number[] = [];
  for (let turn = 0; turn < rules.turns; turn += 1) {
    const layer = Math.floor(turn / turnsPerLayer);
    const place = turn % turnsPerLayer;
    const row = layer % 2 === 0 ? place : turnsPerLayer - 1 - place;
    const inner = middleOf(rules, layer) - ((rules.strandsDeep - 1) * rules.strandOut) / 2;
    for (let deep = 0; deep < rules.strandsDeep; deep += 1) {
      for (let strand = 0; strand < rules.strandsAlong; strand += 1) {
        placed.push(inner + deep * rules.strandOut, marginMm + row * pitch + (strand + 0.5) * strandPitch);
      }
    }
  }
  return placed;
}
