import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured, optional, plainNumber, text } from './field.ts';

const input = group({
  winding: optional(text({ label: 'Which winding' })),
  measuredVolts: measured({ label: 'Volts of the winding at no load', unit: 'V', above: 0 }),
  primaryVolts: optional(measured({ label: 'Line volts at that moment', unit: 'V', above: 0 })),
  nominalVolts: optional(plainNumber({ label: 'Line volts to judge it at', unit: 'V', above: 0 })),
  turns: measured({ label: 'Turns of the winding now', above: 0 }),
  targetVolts: plainNumber({ label: 'Volts wanted', unit: 'V', above: 0, help: 'At load, where a drop is given.' }),
  dropVolts: optional(measured({ label: 'Drop from no load to load', unit: 'V', atLeast: 0 })),
});
type AdjustInput = v.InferOutput<typeof input>;

export interface AdjustTurnsResults {
  /** Whole; below 0: turns to take off, or to wind on opposing. */
  readonly turnsToAdd: number;
  /** With the turns as they are: at load where a drop is given, else at no load; at the nominal line where it is given. */
  readonly voltsNow: PhysicalResult;
  /** With those turns: at load where a drop is given, else at no load. */
  readonly voltsAfter: PhysicalResult;
  /** At no load, at the nominal line where it is given. */
  readonly voltsPerTurn: PhysicalResult;
  /** Whether the volts as they are differ visibly from the target, and a whole turn brings them nearer; null: not known. */
  readonly worthwhile: boolean | null;
}

type Each = Values<Pick<AdjustInput, 'measuredVolts' | 'turns' | 'primaryVolts' | 'nominalVolts' | 'dropVolts'>>;

const perTurnAtNoLoad = ({ measuredVolts, turns, primaryVolts, nominalVolts }: Each) =>
  primaryVolts === undefined || nominalVolts === undefined
    ? measuredVolts / turns
    : ((measuredVolts / turns) * nominalVolts) / primaryVolts;

/** The drop grows with the turns, as the wire grows longer. */
const perTurn = (each: Each) => perTurnAtNoLoad(each) - (each.dropVolts ?? 0) / each.turns;

function cautionsOf({ primaryVolts, nominalVolts, dropVolts, turns }: AdjustInput, step: number): readonly Caution[] {
  return [
    caution('one-turn', `One turn is ${formatNumber(step, 3)} V: nearer than half of that no whole turn can come.`),
    ...(primaryVolts === undefined || nominalVolts === undefined
      ? [
          caution(
            'line-not-counted',
            'Without the line volts at the reading and the ones to judge at, a low line adds turns that nobody needs.',
          ),
        ]
      : []),
    ...(dropVolts === undefined ? [caution('no-load-only', 'At no load: under load the volts are lower.')] : []),
    ...(Number.isInteger(turns.value)
      ? []
      : [caution('half-turn', 'Half a turn couples badly: on a shell core it closes round an outer limb.')]),
  ];
}

function run(given: AdjustInput) {
  const { measuredVolts, primaryVolts, nominalVolts, turns, targetVolts, dropVolts } = given;
  const tree = {
    measuredVolts,
    turns,
    ...(primaryVolts === undefined ? {} : { primaryVolts }),
    ...(nominalVolts === undefined ? {} : { nominalVolts }),
    ...(dropVolts === undefined ? {} : { dropVolts }),
  };
  const open = propagate(tree, perTurnAtNoLoad);
  const step = propagate(tree, perTurn);
  if (!(step.value > 0)) return refuse('conflict', 'The drop takes all of the volts.', 'dropVolts');
  const wanted = targetVolts / step.value;
  const turnsToAdd = Math.round(wanted - turns.value);
  if (turns.value + turnsToAdd <= 0) {
    return refuse('outside-validity', 'The volts wanted are less than half a turn gives.', 'targetVolts');
  }
  const now = propagate(tree, (each) => perTurn(each) * each.turns);
  const after = propagate(tree, (each) => perTurn(each) * (each.turns + turnsToAdd));
  const differs = now.u === null ? null : Math.abs(now.value - targetVolts) > now.k * now.u;
  const results: AdjustTurnsResults = {
    turnsToAdd: turnsToAdd === 0 ? 0 : turnsToAdd,
    voltsNow: physical('V', now),
    voltsAfter: physical('V', after),
    voltsPerTurn: physical('V/turn', open),
    worthwhile: differs === null ? null : differs && turnsToAdd !== 0,
  };
  const n = (value: number) => formatNumber(value, 6);
  const line1 =
    primaryVolts === undefined || nominalVolts === undefined
      ? line('v', 'U2 / N', `${n(measuredVolts.value)} / ${n(turns.value)}`, open.value, 'V/turn')
      : line(
          'v',
          'U2 / N × Unom / U1',
          `${n(measuredVolts.value)} / ${n(turns.value)} × ${n(nominalVolts)} / ${n(primaryVolts.value)}`,
          open.value,
          'V/turn',
        );
  return worked(
    results,
    [
      line1,
      line(
        "v'",
        'v − ΔU / N',
        `${n(open.value)} − ${n(dropVolts?.value ?? 0)} / ${n(turns.value)}`,
        step.value,
        'V/turn',
      ),
      line(
        'ΔN',
        "Uwanted / v' − N, rounded",
        `${n(targetVolts)} / ${n(step.value)} − ${n(turns.value)}`,
        turnsToAdd,
        'turns',
      ),
      line('U', "v' × (N + ΔN)", `${n(step.value)} × (${n(turns.value)} + (${n(turnsToAdd)}))`, after.value, 'V'),
    ],
    cautionsOf(given, step.value),
  );
}

export const adjustTurns = defineCalculation({
  name: 'adjust-turns',
  title: 'Turns to add for the volts wanted',
  version: 1,
  sources: [
    'Volts are in proportion to turns; any machines text',
    'Judging at nominal line volts: common practice, no source',
  ],
  input,
  example: {
    measuredVolts: { value: 11.4, u: 0.03 },
    primaryVolts: { value: 117.2, u: 0.3 },
    nominalVolts: 120,
    turns: 12,
    targetVolts: 13.8,
    dropVolts: { value: 0.6, u: 0.05 },
  },
  run,
});
