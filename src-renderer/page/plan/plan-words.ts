import { formatNumber } from '../../../src-shared/quantity/format.ts';
import type { PhysicalResult } from '../../../src-shared/calculation/answer.ts';
import type { LoadTime, SecondaryChoice } from '../../../src-shared/calculation/secondary/choice.ts';
import { inSystem, type UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { PlanNumbers } from './plan-asked.ts';
import type { PlannedOutput } from '../../../src-shared/record/planned-output.ts';

/** How a choice is told apart from the others: `2 × AWG 12`. */
export const choiceKey = ({ strands, wire }: SecondaryChoice): string =>
  strands === 1 ? wire : `${strands} × ${wire}`;

/** A figure in the person's units, without its uncertainty. */
function figure({ value, unit }: Pick<PhysicalResult, 'value' | 'unit'>, system: UnitSystem, figures = 3): string {
  const shown = inSystem({ value, u: null, unit }, system);
  return formatNumber(shown.value, figures).replace('-', '−');
}

/** For a column: always three digits, so that points stand below each other. */
export const inColumn = (value: number): string => value.toFixed(value >= 100 ? 0 : value >= 10 ? 1 : 2);

/** The same with its unit behind it. */
export function withUnit(result: Pick<PhysicalResult, 'value' | 'unit'>, system: UnitSystem, figures = 3): string {
  const { unit } = inSystem({ value: result.value, u: null, unit: result.unit }, system);
  return unit === '' ? figure(result, system, figures) : `${figure(result, system, figures)} ${unit}`;
}

/** A length as a caliper shows it: two places in mm, three in inches. */
export function lengthWords(mm: number, system: UnitSystem): string {
  const { value, unit } = inSystem({ value: mm, u: null, unit: 'mm' }, system);
  return `${Number(value.toFixed(system === 'us' ? 3 : 2))} ${unit}`;
}

/** The room of a plan: `9.4 mm underneath, 10.6 × 60 mm free`; what is not known is said. */
export function roomWords({ inner, windowWidth, windowHeight }: PlanNumbers, system: UnitSystem): string {
  const length = (mm: number | undefined): string => (mm === undefined ? 'not known' : lengthWords(mm, system));
  return `${length(inner)} underneath, free ${length(windowWidth)} wide and ${length(windowHeight)} high`;
}

/** What the calculation says in metric units, in the person's. */
export const inTheirUnits = (text: string, system: UnitSystem): string =>
  text.replace(/(\d+(?:\.\d+)?) (A\/mm²|mm)(?![²\w])/g, (_, value: string, unit: string) =>
    withUnit({ value: Number(value), unit }, system),
  );

export const timeWords: Readonly<Record<LoadTime, string>> = {
  hours: 'for hours',
  minutes: 'for minutes',
  bursts: 'in short bursts',
};

/** Layers as they are wound: `3 layers of 9`, `1 layer`. */
export function layerWords({ layers, turnsPerLayer, turns }: SecondaryChoice): string {
  if (layers === 1) return '1 layer';
  const last = turns - (layers - 1) * turnsPerLayer;
  return last === turnsPerLayer
    ? `${layers} layers of ${turnsPerLayer}`
    : `${layers} layers of ${turnsPerLayer}, ${last} in the last`;
}

/** Strands of one turn: null for one alone. */
export function bunchWords({ strands, strandsDeep }: SecondaryChoice): string | null {
  if (strands === 1) return null;
  const across = strands / strandsDeep;
  if (strandsDeep === 1) return `${strands} strands side by side`;
  return across === 1 ? `${strands} strands one above the other` : `${strands} strands, ${across} side by side`;
}

/** One kept output in a line: `Cutter: 22 turns of 2 × 1.4 mm, 24 V at 9.5 A`. */
export const outputWords = ({ label, turns, wire, loadVolts, loadAmps }: PlannedOutput): string =>
  `${label}: ${turns} turns of ${wire.strands === 1 ? '' : `${wire.strands} × `}${wire.name}, ${loadVolts} V at ${loadAmps} A`;
