import type { BenchFacts } from '../../../src-shared/interlock/bench.ts';
import { cautionText } from '../../../src-shared/interlock/cautions.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { figure } from '../../../src-shared/interlock/words.ts';
import type { Procedure } from '../../../src-shared/procedure/procedure.ts';
import type { BuildFields } from '../../../src-shared/record/build.ts';
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

/** Bare metal burns from here within a minute (ISO 13732-1, from memory). In °C. */
const burnsFrom = 51;

/** Whether anything that is read is hot enough to burn. */
const isHot = ({ setUp, watch }: GuardState): boolean =>
  (setUp?.channels ?? []).some(({ id, kind }) => {
    const seen = watch.channels[id];
    return kind === 'temperature' && seen?.kind === 'number' && (seen.value ?? 0) > burnsFrom;
  });

/** The cautions that belong to the procedure in hand, at their place: where they bear on what is done now. */
export function procedureCautions(
  { cautions }: Pick<Procedure, 'cautions'>,
  state: GuardState,
  shunts: BuildFields['shunts'] | null,
): readonly CautionLine[] {
  const { bench, thresholds } = state;
  const isHigh = (bench?.windings ?? []).some(
    ({ role, volts }) => role === 'secondary' && volts !== null && volts > thresholds.touchVolts,
  );
  const here: readonly (CautionLine | null)[] = [
    { id: 'c-attend', about: 'Stay with it', text: cautionText('c-attend', {}) },
    { id: 'c-kick', about: 'Direct current', text: cautionText('c-kick', {}) },
    isHot(state) ? { id: 'c-hot', about: 'Hot', text: cautionText('c-hot', {}) } : null,
    isHigh ? { id: 'c-out50', about: 'Output', text: cautionText('c-out50', {}) } : null,
    shunts === 'out' ? { id: 'c-shunt', about: 'Shunts out', text: cautionText('c-shunt', {}) } : null,
  ];
  return here.filter((line) => line !== null).filter(({ id }) => cautions.some((named) => named === id));
}
