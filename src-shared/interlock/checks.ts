import type { Check, ChecklistId } from './check.ts';
import { baseChecks } from './checks-base.ts';
import { lowVoltageCoilChecks, mainsCoilChecks } from './checks-coil.ts';
import { deadChecks } from './checks-dead.ts';
import { noLoadChecks, sweepChecks } from './checks-no-load.ts';
import { coolingChecks, insulationChecks, resistanceChecks, shortCircuitChecks } from './checks-other.ts';
import { heatRunChecks, loadedRunChecks } from './checks-run.ts';

/** Every line of every checklist, in the order in which it is shown. */
export const checks = [
  ...deadChecks,
  ...baseChecks,
  ...lowVoltageCoilChecks,
  ...mainsCoilChecks,
  ...noLoadChecks,
  ...sweepChecks,
  ...heatRunChecks,
  ...loadedRunChecks,
  ...shortCircuitChecks,
  ...coolingChecks,
  ...resistanceChecks,
  ...insulationChecks,
] as const satisfies readonly Check[];

export type CheckId = (typeof checks)[number]['id'];

export const checkIds: readonly CheckId[] = checks.map(({ id }) => id);

/** A check of the lists. */
type KnownCheck = Check & { readonly id: CheckId };

const byId = new Map<string, KnownCheck>(checks.map((check) => [check.id, check]));

/** The check with this id; undefined when there is none. */
export const checkById = (id: string): KnownCheck | undefined => byId.get(id);

export const isCheckId = (id: string): id is CheckId => byId.has(id);

const idsOf = (list: readonly { readonly id: CheckId }[]): readonly CheckId[] => list.map(({ id }) => id);

/** The base lines that a low-voltage test coil takes along, whatever its grade. */
const lowVoltageBase = ['b-volts', 'b-hv', 'b-jack', 'b-clip', 'b-rate', 'b-off'] as const;

/**
 * What each checklist consists of. T1 is the low-voltage test coil, and P polarity, while every winding is known and under
 * the touch bound; T1-base is what they take along as soon as one is not. PD belongs to every procedure and is not repeated here.
 */
export const checklists: Readonly<Record<ChecklistId, readonly CheckId[]>> = {
  PD: idsOf(deadChecks),
  B: idsOf(baseChecks),
  T1: [...lowVoltageBase, ...idsOf(lowVoltageCoilChecks)],
  P: [...lowVoltageBase, 't1-src', 't1-own'],
  'T1-base': ['b-place', 'b-people', 'b-cover', 'b-earth'],
  T2: idsOf(mainsCoilChecks),
  N: idsOf(noLoadChecks),
  S: idsOf(sweepChecks),
  H: idsOf(heatRunChecks),
  L: idsOf(loadedRunChecks),
  X: [
    ...(['b-volts', 'b-hv', 'b-earth', 'b-fuse', 'b-cover', 'b-off'] as const),
    ...(['b-jack', 'b-clip', 'b-rate', 'b-place', 'b-people'] as const),
    ...idsOf(shortCircuitChecks),
  ],
  K: idsOf(coolingChecks),
  R: idsOf(resistanceChecks),
  I: idsOf(insulationChecks),
};
