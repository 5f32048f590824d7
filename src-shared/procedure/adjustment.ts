import * as v from 'valibot';
import type { Winding } from '../record/build.ts';
import { numberOf, type Field } from './field.ts';
import {
  given,
  inputOf,
  turnsInput,
  type Calculated,
  type RunMaterial,
  type StandingPoint,
  type WantedOutput,
} from './material.ts';

/** What an output is to give, where no plan says it. */
export const outputVoltsAsk: Field = {
  id: 'wantedVolts',
  label: 'Volts wanted of the output, with nothing on it',
  hint: 'With its volts read, the run says how many turns too many or too few it has. Left empty: as planned, if this build followed a plan.',
  required: false,
  kind: 'number',
  unit: 'V',
  atLeast: 0.1,
  atMost: 1000,
};

type Secondary = Pick<Winding, 'windingId' | 'fields'>;
const plain = (turns: ReturnType<typeof turnsInput>): number | null =>
  turns === undefined ? null : typeof turns === 'number' ? turns : turns.value;

/** Outputs whose volts are this much alike cannot be told apart by their volts. */
const alike = 0.05;

/** Which secondary the volts were read on: the only one, or the one whose turns give such volts; null where two might. */
function readOn({ windings, fedWindingId }: RunMaterial, volts: number, line: number): Secondary | null {
  const secondaries = windings.filter(
    ({ windingId, fields }) => fields.role === 'secondary' && windingId !== fedWindingId,
  );
  if (secondaries.length < 2) return secondaries[0] ?? null;
  const fed = plain(turnsInput(windings.find(({ windingId }) => windingId === fedWindingId)));
  if (fed === null) return null;
  const apart = secondaries
    .flatMap((winding) => {
      const turns = plain(turnsInput(winding));
      return turns === null ? [] : [{ winding, by: Math.abs(Math.log((line * turns) / fed / volts)) }];
    })
    .sort((one, other) => one.by - other.by);
  const [first, second] = apart;
  if (first === undefined || (second !== undefined && second.by - first.by < alike)) return null;
  return first.winding;
}

/** What is wanted of a winding: by the answer at set-up, else by the plan; null where nobody said. */
function target({ answers, core, supply, wanted }: RunMaterial, label: string, drop: unknown) {
  const planned: WantedOutput | undefined = wanted.find((one) => one.label === label);
  const asked = numberOf(answers, outputVoltsAsk.id);
  const nominalVolts = planned?.lineVolts ?? core?.fromVolts ?? supply.volts;
  if (asked !== null) return { targetVolts: asked, nominalVolts };
  if (planned === undefined) return null;
  return { targetVolts: planned.loadVolts, dropVolts: drop ?? planned.dropVolts, nominalVolts };
}

/**
 * Whether an output wants turns more or fewer, from its volts and the line volts of one point with nothing on it, as the
 * calculation `adjust-turns` takes it. Nothing where no output was read, its turns are not known, or nobody said what it is
 * to give.
 */
export function adjustment(material: RunMaterial, point: StandingPoint): readonly Calculated[] {
  const [volts, line] = [inputOf(point, 'secondary-volts'), inputOf(point, 'primary-volts')];
  if (volts === undefined || line === undefined || !(volts.value > 0)) return [];
  const winding = readOn(material, volts.value, line.value);
  const turns = turnsInput(winding ?? undefined);
  if (winding === null || turns === undefined) return [];
  const wants = target(material, winding.fields.label, null);
  if (wants === null) return [];
  const { label } = winding.fields;
  return [
    {
      calculation: 'adjust-turns',
      input: { winding: label, measuredVolts: volts, primaryVolts: line, turns, ...wants },
    },
  ];
}

const finite = v.pipe(v.number(), v.finite());
const Quantity = v.object({ value: finite, u: v.nullable(finite) });
const Loaded = v.object({ openCircuitVolts: Quantity, outputResistance: Quantity });

/**
 * The same from a loaded run with line volts at every point, whose drop was measured: volts with no load are at the line
 * volts that the run is referred to, and the drop is that at the planned amps.
 */
export function adjustmentUnderLoad(material: RunMaterial, points: number, results: unknown): readonly Calculated[] {
  const read = v.safeParse(Loaded, results);
  const hasLine = material.points.every((point) => inputOf(point, 'primary-volts') !== undefined);
  if (!read.success || points !== material.points.length || !hasLine) return [];
  const { openCircuitVolts, outputResistance } = read.output;
  const winding = readOn(material, openCircuitVolts.value, material.supply.volts);
  const turns = turnsInput(winding ?? undefined);
  const label = winding?.fields.label;
  const planned = material.wanted.find((one) => one.label === label);
  if (label === undefined || turns === undefined || planned === undefined) return [];
  const { u } = outputResistance;
  const dropVolts = {
    value: Math.max(0, outputResistance.value) * planned.loadAmps,
    u: u === null ? null : u * planned.loadAmps,
  };
  return [
    {
      calculation: 'adjust-turns',
      input: {
        winding: label,
        measuredVolts: openCircuitVolts,
        primaryVolts: material.supply.volts,
        turns,
        ...given('targetVolts', planned.loadVolts),
        nominalVolts: planned.lineVolts,
        dropVolts,
      },
    },
  ];
}
