import { formatEstimate, formatNumber } from '../../quantity/format.ts';
import { inSystem, type UnitSystem } from '../../quantity/unit.ts';
import type { PlannedOutput, PlannedWire, Predicted } from '../../record/planned-output.ts';

const inch = 25.4;
const inchesInFoot = 12;

/** A small length as a caliper shows it: two places in mm, three in inches. */
export function sizeWords(mm: number, system: UnitSystem): string {
  const { value, unit } = inSystem({ value: mm, u: null, unit: 'mm' }, system);
  return `${Number(value.toFixed(system === 'us' ? 3 : 2))} ${unit}`;
}

/** A length to cut, never short of it: to the next centimetre, or to the next inch in feet and inches. */
export function cutWords(mm: number, system: UnitSystem): string {
  if (system === 'metric') return `${(Math.ceil(mm / 10 - 1e-9) / 100).toFixed(2)} m`;
  const inches = Math.ceil(mm / inch - 1e-9);
  return `${Math.floor(inches / inchesInFoot)} ft ${inches % inchesInFoot} in`;
}

export const turnsWords = (turns: number): string => `${formatNumber(turns)} ${turns === 1 ? 'turn' : 'turns'}`;

/** A predicted figure with its doubt, or without where nobody can say. */
export function predictedWords({ value, u }: Predicted, unit: string, system: UnitSystem): string {
  const shown = inSystem({ value, u, unit }, system);
  return u === null ? `${formatNumber(shown.value, 3)} ${shown.unit}` : formatEstimate(shown);
}

/** The wire of an output with its size over the insulation: `2 × 1.4 mm, 1.51 mm over the film`. */
export function wireWords(wire: PlannedWire, system: UnitSystem): string {
  const name = wire.strands === 1 ? wire.name : `${wire.strands} × ${wire.name}`;
  switch (wire.kind) {
    case 'round':
      return `${name} round wire, ${sizeWords(wire.overallMm, system)} over the film`;
    case 'cable':
      return `${name} cable, ${sizeWords(wire.overallMm, system)} over the insulation`;
    case 'strip':
      return `${name} strip, ${sizeWords(wire.overallWidthMm, system)} × ${sizeWords(wire.overallThicknessMm, system)} over the insulation`;
  }
}

/** How the strands of a turn lie; empty for one alone. */
export function bunchWords({ strands, strandsDeep }: PlannedWire): string {
  if (strands === 1) return '';
  const abreast = strands / strandsDeep;
  if (strandsDeep === 1) return `${strands} strands in hand, side by side`;
  return abreast === 1
    ? `${strands} strands in hand, one above the other`
    : `${strands} strands in hand, ${abreast} side by side, ${strandsDeep} deep`;
}

/** `13 + 9`: the turns of each layer; alike ones are counted: `3 × 12 + 4`. */
export function layersWords({ layers }: Pick<PlannedOutput, 'layers'>): string {
  const groups: { turns: number; count: number }[] = [];
  for (const { turns } of layers) {
    const last = groups.at(-1);
    if (last?.turns === turns) last.count += 1;
    else groups.push({ turns, count: 1 });
  }
  return groups
    .map(({ turns, count }) => (count === 1 ? `${formatNumber(turns)}` : `${count} × ${formatNumber(turns)}`))
    .join(' + ');
}
