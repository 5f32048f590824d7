import * as v from 'valibot';
import type { PlanWhole } from '../../../src-shared/contract/plan-view.ts';
import { turnsKnown } from '../../../src-shared/record/build.ts';
import type { ShelfEntry } from '../../../src-shared/ranking/core-facts.ts';
import type { PlannedOutput } from '../../../src-shared/record/planned-output.ts';
import type { PlanFields } from '../../../src-shared/record/plan.ts';
import type { Known } from '../../../src-shared/joining/unit.ts';

/** What the record says of one transformer that is to be joined; absent is not known. */
export interface UnitOnRecord {
  readonly openVolts?: Known;
  readonly ohms?: Known;
  readonly primaryTurns?: Known;
  readonly primaryOhms?: Known;
  readonly ratedAmps?: Known;
}

const Physical = v.looseObject({ value: v.number(), u: v.nullable(v.number()) });
const Loaded = v.looseObject({
  results: v.looseObject({ openCircuitVolts: Physical, outputResistance: Physical }),
});

const known = <K extends string>(key: K, value: Known | undefined) =>
  value === undefined ? {} : { [key]: { value: value.value, u: value.u } };

/**
 * The newest build of a core as a unit: by its last loaded run where there is one; else the volts of its secondary from
 * the turns, on `volts` at its primary.
 */
export function unitOnRecord({ builds, results }: ShelfEntry, volts: number | undefined): UnitOnRecord {
  const build = builds.at(-1);
  const of = (role: string) => build?.windings.find(({ fields }) => fields.role === role)?.fields;
  const [primary, secondary] = [of('primary'), of('secondary')];
  const [one, two] = [primary, secondary].map((winding) => (winding === undefined ? null : turnsKnown(winding.turns)));
  const loaded = results
    .filter(({ buildId, calculation }) => buildId === build?.buildId && calculation === 'loaded-run')
    .map(({ output }) => v.safeParse(Loaded, output))
    .findLast(({ success }) => success);
  const measured = loaded?.success === true ? loaded.output.results : null;
  const ratio = one === null || two === null || one === undefined || two === undefined ? null : two.value / one.value;
  const byTurns = ratio === null || volts === undefined ? undefined : { value: volts * ratio, u: null };
  const ohms =
    ratio === null || secondary?.ohms === undefined || primary?.ohms === undefined
      ? undefined
      : { value: secondary.ohms.value + primary.ohms.value * ratio ** 2, u: null };
  return {
    ...known('openVolts', measured?.openCircuitVolts ?? byTurns),
    ...known('ohms', measured?.outputResistance ?? ohms),
    ...known('primaryTurns', one ?? undefined),
    ...known('primaryOhms', primary?.ohms),
  };
}

/**
 * A core as a unit by an output of a plan, wound as planned, on `volts` at its primary. The resistance is what its volts
 * fall by under the planned load; nobody kept how sure that is.
 */
function unitPlanned(
  { builds }: ShelfEntry,
  buildId: number,
  { addedTurns, line }: PlanFields,
  { predicted, loadAmps }: PlannedOutput,
  volts: number | undefined,
): UnitOnRecord {
  const primary = builds
    .find((build) => build.buildId === buildId)
    ?.windings.find(({ fields }) => fields.role === 'primary')?.fields;
  const turns = primary === undefined ? null : turnsKnown(primary.turns);
  const part = (volts ?? line.volts) / line.volts;
  const { noLoadVolts, loadVolts } = predicted;
  return {
    openVolts: { value: noLoadVolts.value * part, u: noLoadVolts.u === null ? null : noLoadVolts.u * part },
    ohms: { value: (noLoadVolts.value - loadVolts.value) / loadAmps, u: null },
    ratedAmps: { value: loadAmps, u: null },
    ...(turns === null ? {} : { primaryTurns: { ...turns, value: turns.value + addedTurns } }),
    ...known('primaryOhms', addedTurns === 0 ? primary?.ohms : undefined),
  };
}

/** An output of a kept plan that a unit can have its figures from. */
export interface PlannedUnit {
  /** The plan and the output. */
  readonly from: string;
  readonly words: string;
  readonly figures: UnitOnRecord;
}

/** The outputs of the newest versions of the plans of a core, each as a unit. */
export const plannedUnits = (
  plans: readonly PlanWhole[],
  entry: ShelfEntry,
  volts: number | undefined,
): readonly PlannedUnit[] =>
  plans.flatMap(({ planId, buildId, versions }) => {
    const fields = versions.at(-1)?.fields;
    return (fields?.outputs ?? []).flatMap((output) =>
      fields === undefined
        ? []
        : [
            {
              from: `${planId} ${output.key}`,
              words: `as planned: ${output.label}, ${output.loadVolts} V ${output.loadAmps} A`,
              figures: unitPlanned(entry, buildId, fields, output, volts),
            },
          ],
    );
  });

/** Volts on another winding of the core while the low source feeds its primary; null where none is over `limit`. */
export function highestStep(
  { builds }: ShelfEntry,
  testVolts: number,
  limit: number,
): { readonly winding: string; readonly volts: number } | null {
  const windings = builds.at(-1)?.windings.map(({ fields }) => fields) ?? [];
  const primary = windings.find(({ role }) => role === 'primary');
  const fed = primary === undefined ? null : turnsKnown(primary.turns);
  if (fed === null) return null;
  const others = windings.flatMap((winding) => {
    const turns = winding === primary ? null : turnsKnown(winding.turns);
    return turns === null ? [] : [{ winding: winding.label, volts: (testVolts * turns.value) / fed.value }];
  });
  const [highest] = others.toSorted((a, b) => b.volts - a.volts);
  return highest === undefined || highest.volts <= limit ? null : highest;
}

/** Whether a core has a winding, other than the primary, whose turns nobody knows. */
export const hasUnknownWinding = ({ builds }: ShelfEntry): boolean =>
  builds.at(-1)?.windings.some(({ fields }) => fields.role !== 'primary' && fields.turns.kind === 'unknown') ?? false;
