import type { BenchFacts } from '../../../src-shared/interlock/bench.ts';
import { cautionText } from '../../../src-shared/interlock/cautions.ts';
import { figure } from '../../../src-shared/interlock/words.ts';
import { voltsRows } from './volts-view.ts';

interface CautionLine {
  readonly id: string;
  /** What it is about. */
  readonly about: string;
  readonly text: string;
}

const supplyCautions = ({ kind }: BenchFacts['supply']): readonly CautionLine[] => {
  const rcd = { id: 'c-rcd', about: 'RCD/GFCI', text: cautionText('c-rcd', {}) };
  switch (kind) {
    case 'isolated-low-voltage':
      return [];
    case 'variable-transformer':
      return [{ id: 'c-var', about: 'Variable transformer', text: cautionText('c-var', {}) }, rcd];
    case 'mains-through-lamp':
      return [{ id: 'c-lamp', about: 'Series lamp', text: cautionText('c-lamp', {}) }, rcd];
    case 'mains':
    case 'isolating-transformer':
      return [rcd];
  }
};

/**
 * The current of the first part of a cycle at full volts, at most: the peak of the voltage over the winding's resistance
 * alone (trade practice; the supply's own resistance makes it less). None where something limits it or nothing is known.
 */
function inrushCaution({ supply }: BenchFacts, fedOhms: number | null): readonly CautionLine[] {
  const isFull = supply.kind === 'mains' || supply.kind === 'isolating-transformer';
  if (!isFull || fedOhms === null || fedOhms <= 0) return [];
  const i = figure((Math.SQRT2 * supply.volts) / fedOhms);
  return [{ id: 'c-inrush', about: 'First power', text: cautionText('c-inrush', { i }) }];
}

/**
 * The cautions of this bench, each with its volts.
 * @param fedOhms - resistance of the fed winding; null when not known
 */
export const cautionLines = (bench: BenchFacts, touchVolts: number, fedOhms: number | null): readonly CautionLine[] => [
  ...voltsRows(bench, touchVolts).flatMap(({ id, label, caution }) =>
    caution === null ? [] : [{ id, about: label, text: caution }],
  ),
  ...supplyCautions(bench.supply),
  ...inrushCaution(bench, fedOhms),
];
