import * as v from 'valibot';
import { noLoadNear } from '../comparison/no-load-near.ts';
import { voltsOf } from '../comparison/side.ts';
import { noLoadHeat } from '../record/heat-results.ts';
import { turnsKnown, type Build } from '../record/build.ts';
import type { Core, CoreFields } from '../record/core.ts';
import type { Measured } from '../record/field.ts';
import type { Result } from '../record/run.ts';

/** A core of the shelf as the record has it. */
export interface ShelfEntry {
  readonly core: Core;
  readonly builds: readonly Build[];
  readonly results: readonly Result[];
}

/** What is known of a core, as far as it decides whether it will do; null is not known. Its newest build counts. */
export interface CoreFacts {
  readonly coreId: number;
  readonly buildId: number | null;
  readonly fields: CoreFields;
  readonly turns: { readonly value: number; readonly u: number } | null;
  /** Bare diameter of the primary's wire, in mm. */
  readonly primaryWireMm: number | null;
  readonly primaryOhms: Measured | null;
  /** From a heat run at no load: its final rise in K, and its time constant in s. */
  readonly heat: { readonly rise: number; readonly seconds: number } | null;
  /** Volts times amps with no load, read near the volts of the line; null where none were read there. */
  readonly noLoadVoltAmperes: number | null;
  /** Verdict of the last insulation test. */
  readonly insulation: 'met' | 'not-met' | 'unclear' | 'not-applicable' | null;
}

const Physical = v.looseObject({ value: v.pipe(v.number(), v.finite()) });
const Heat = v.looseObject({ finalRise: Physical, timeConstant: Physical });
const NoLoad = v.looseObject({ apparentPower: Physical });
const Insulation = v.looseObject({ verdict: v.picklist(['met', 'not-met', 'unclear', 'not-applicable']) });

/** What the newest kept result of a calculation says, by a schema; null where there is none that it fits. */
function latest<S extends v.GenericSchema>(
  results: readonly Result[],
  name: string,
  schema: S,
): v.InferOutput<S> | null {
  for (const { calculation, output } of results.toReversed()) {
    if (calculation !== name) continue;
    const parsed = v.safeParse(v.looseObject({ results: schema }), output);
    if (parsed.success) return parsed.output.results;
  }
  return null;
}

/** Points read further from the line say nothing of what it drives: near the knee the current goes with the fifth power. */
const nearLine = 0.05;

function idleOf(results: readonly Result[], lineVolts: number): number | null {
  const point = noLoadNear(results, lineVolts);
  const volts = point === undefined ? null : voltsOf(point);
  if (point === undefined || volts === null || Math.abs(volts / lineVolts - 1) > nearLine) return null;
  return latest([point], 'no-load', NoLoad)?.apparentPower.value ?? null;
}

/** Gathers what counts of a core from the record. `lineVolts`: of the circuit that is to feed it. */
export function coreFacts({ core, builds, results }: ShelfEntry, lineVolts: number): CoreFacts {
  const build = builds.at(-1);
  const primary = build?.windings.find(({ fields }) => fields.role === 'primary')?.fields;
  const ofBuild = results.filter(({ buildId }) => buildId === build?.buildId);
  const idle = noLoadHeat(ofBuild);
  const heat = idle === undefined ? null : latest([idle], 'heat-run', Heat);
  return {
    coreId: core.coreId,
    buildId: build?.buildId ?? null,
    fields: core.fields,
    turns: primary === undefined ? null : turnsKnown(primary.turns),
    primaryWireMm: primary?.bareDiameter?.value ?? null,
    primaryOhms: primary?.ohms ?? null,
    heat: heat === null ? null : { rise: heat.finalRise.value, seconds: heat.timeConstant.value },
    noLoadVoltAmperes: idleOf(ofBuild, lineVolts),
    insulation: latest(ofBuild, 'insulation-resistance', Insulation)?.verdict ?? null,
  };
}
