import * as v from 'valibot';
import { calculate } from '../calculation/calculate.ts';
import { formatEstimate, formatNumber, type Written } from '../quantity/format.ts';
import type { PlanVersion } from '../record/plan.ts';
import { primaryOf, turnsNumber } from '../record/primary.ts';
import type { Predicted } from '../record/planned-output.ts';
import { coreHeat, type CoreHeat } from './core-heat.ts';
import { rewoundBy } from './rewound-by.ts';
import type { BuildRecord } from './build-record.ts';
import { chosenResults, voltsOf, type Chosen } from './side.ts';
import { predictedRow, type PredictedRow } from './outcome.ts';
import { voltsPowers } from './volts-power.ts';

const finite = v.pipe(v.number(), v.finite());
const Quantity = v.looseObject({ value: finite, u: v.nullable(finite) });
const Measured = v.union([
  finite,
  v.looseObject({ value: finite, u: v.optional(v.nullable(finite)), shared: v.optional(v.looseObject({ u: finite })) }),
]);
const Sweep = v.looseObject({ primaryTurns: Measured });
const Adjusted = v.looseObject({
  winding: v.string(),
  measuredVolts: Measured,
  primaryVolts: Measured,
  nominalVolts: v.optional(finite),
});
const NoLoad = v.looseObject({ volts: Measured, amps: Measured, watts: v.optional(Measured) });
const Loaded = v.looseObject({
  results: v.looseObject({ openCircuitVolts: Quantity, outputResistance: Quantity }),
});
const LoadedInput = v.looseObject({ referenceVolts: v.optional(finite) });

const written = (measured: v.InferOutput<typeof Measured>, unit: string): Written => {
  if (typeof measured === 'number') return { value: measured, u: 0, unit };
  const { value, u, shared } = measured;
  return { value, u: u === undefined || u === null ? null : Math.hypot(u, shared?.u ?? 0), unit };
};

const noLoadOf = (kept: Chosen) => {
  const read = v.safeParse(NoLoad, kept.get('no-load')?.input);
  return read.success ? read.output : null;
};

/** What the curve of the build before says of the build after, at the volts of its no-load point. */
function fromCurve(before: BuildRecord, after: BuildRecord, [kept, keptAfter]: readonly [Chosen, Chosen]) {
  const swept = v.safeParse(Sweep, kept.get('excitation')?.input);
  const read = noLoadOf(keptAfter);
  if (!swept.success || read === null || before.build.coreId !== after.build.coreId) return [];
  const added = rewoundBy(before, after, written(swept.output.primaryTurns, '').value);
  if (added === null || !Number.isInteger(added)) return [];
  const answer = calculate('excitation', {
    ...swept.output,
    supplyVolts: written(read.volts, 'V').value,
    addedTurns: [added],
  });
  const found = answer.ok ? answer.results.predictions[0] : undefined;
  if (found === undefined) return [];
  const turnsWords =
    added === 0 ? 'no other turns' : `${formatNumber(Math.abs(added))} ${added > 0 ? 'more' : 'fewer'} turns`;
  const from = `the curve of build ${before.build.number}, with ${turnsWords}`;
  const at = ` at ${formatEstimate({ ...written(read.volts, 'V'), u: 0 })}`;
  return [
    predictedRow(`No-load current${at}`, 'A', found.amps, written(read.amps, 'A'), from),
    ...(found.watts === undefined || read.watts === undefined
      ? []
      : [predictedRow(`No-load power${at}`, 'W', found.watts, written(read.watts, 'W'), from)]),
  ];
}

/** The no-load figures of the plan, beside the point that was read, brought to the planned line volts along its curve. */
function noLoadPlanned(
  { number, fields }: PlanVersion,
  after: BuildRecord,
  [before, kept]: readonly [Chosen, Chosen],
): readonly PredictedRow[] {
  const result = kept.get('no-load');
  const read = noLoadOf(kept);
  const volts = result === undefined ? null : voltsOf(result);
  const middle = volts === null ? null : Math.sqrt(volts * fields.line.volts);
  const turns = turnsNumber(primaryOf(after.build));
  const powers =
    middle === null
      ? null
      : (voltsPowers(kept.get('excitation'), middle, null) ?? voltsPowers(before.get('excitation'), middle, turns));
  const brought = (measured: v.InferOutput<typeof Measured> | undefined, unit: string, power: 'amps' | 'watts') => {
    if (measured === undefined || volts === null) return null;
    const seen = written(measured, unit);
    const ratio = fields.line.volts / volts;
    // Nobody sets a line nearer than that; without a curve more cannot be brought there.
    if (Math.abs(Math.log(ratio)) < 5e-4) return seen;
    const known = powers?.[power] ?? null;
    if (known === null) return null;
    const value = seen.value * ratio ** known.value;
    const byPower = value * Math.abs(Math.log(ratio)) * known.u;
    return { ...seen, value, u: seen.u === null ? null : Math.hypot((seen.u * value) / seen.value, byPower) };
  };
  const from = `version ${number} of the plan`;
  const at = ` at ${formatNumber(fields.line.volts, 4)} V`;
  const { amps, watts } = fields.noLoad;
  return [
    ...(amps === null ? [] : [predictedRow(`No-load current${at}`, 'A', amps, brought(read?.amps, 'A', 'amps'), from)]),
    ...(watts === null
      ? []
      : [predictedRow(`No-load power${at}`, 'W', watts, brought(read?.watts, 'W', 'watts'), from)]),
  ];
}

/** Volts of an output with nothing on it, from the no-load point that its turns were judged by, at the planned line. */
function openOf(kept: Chosen, label: string, lineVolts: number): Written | null {
  const read = v.safeParse(Adjusted, kept.get('adjust-turns')?.input);
  if (!read.success || read.output.winding !== label) return null;
  const [open, line] = [written(read.output.measuredVolts, 'V'), written(read.output.primaryVolts, 'V')];
  const value = (open.value * lineVolts) / line.value;
  const known = open.u !== null && line.u !== null;
  return { value, u: known ? value * Math.hypot(open.u / open.value, line.u / line.value) : null, unit: 'V' };
}

/** Volts of the outputs that were planned; a loaded run is of one output, the one whose volts it has. */
function outputsPlanned({ number, fields }: PlanVersion, kept: Chosen): readonly PredictedRow[] {
  const result = kept.get('loaded-run');
  const read = v.safeParse(Loaded, result?.output);
  const input = v.safeParse(LoadedInput, result?.input);
  const reference = input.success ? (input.output.referenceVolts ?? fields.line.volts) : fields.line.volts;
  const toLine = fields.line.volts / reference;
  const open = read.success ? read.output.results.openCircuitVolts : null;
  const ohms = read.success ? read.output.results.outputResistance : null;
  const measuredOn =
    open === null
      ? null
      : (fields.outputs.toSorted(
          (one, other) =>
            Math.abs(one.predicted.noLoadVolts.value - open.value * toLine) -
            Math.abs(other.predicted.noLoadVolts.value - open.value * toLine),
        )[0]?.key ?? null);
  const from = `version ${number} of the plan`;
  return fields.outputs.flatMap(({ key, label, loadAmps, predicted }) => {
    const isRead = key === measuredOn && open !== null && ohms !== null;
    const seen = isRead ? { value: open.value * toLine, u: open.u, unit: 'V' } : openOf(kept, label, fields.line.volts);
    const under = isRead
      ? {
          value: (open.value - ohms.value * loadAmps) * toLine,
          u: open.u === null || ohms.u === null ? null : Math.hypot(open.u, ohms.u * loadAmps),
          unit: 'V',
        }
      : null;
    return [
      predictedRow(`${label}: volts with no load`, 'V', predicted.noLoadVolts, seen, from),
      predictedRow(`${label}: volts at ${formatNumber(loadAmps, 4)} A`, 'V', predicted.loadVolts, under, from),
    ];
  });
}

const LoadedAmps = v.looseObject({ points: v.array(v.looseObject({ amps: Measured })) });
/** A load that is this near to the planned one warms about as much. */
const nearLoad = 0.1;

/** Rise of the core that was planned, beside the heat run of the build, and beside a loaded run at about the planned amps. */
function heatPlanned({ number, fields }: PlanVersion, after: BuildRecord): readonly PredictedRow[] {
  const { buildId } = after.build;
  const from = `version ${number} of the plan`;
  const noLoad = coreHeat(after, buildId, 'heat-run');
  const loaded = coreHeat(after, buildId, 'loaded-run');
  const load = v.safeParse(
    LoadedAmps,
    after.results.findLast(({ runId, calculation }) => runId === loaded?.run.runId && calculation === 'loaded-run')
      ?.input,
  );
  const most = load.success ? Math.max(...load.output.points.map(({ amps }) => written(amps, 'A').value)) : null;
  const [output] = fields.outputs;
  const isThatLoad =
    most !== null && output !== undefined && fields.outputs.length === 1
      ? Math.abs(most / output.loadAmps - 1) <= nearLoad
      : false;
  const row = (name: string, predicted: Predicted | null | undefined, seen: CoreHeat | null) =>
    predicted === null || predicted === undefined
      ? []
      : [predictedRow(name, 'K', predicted, seen === null ? null : { ...seen.rise, unit: 'K' }, from)];
  return [
    ...row('Rise of the core with no load', fields.heat?.noLoad, noLoad),
    ...row('Rise of the core, loaded', fields.heat?.loaded, isThatLoad ? loaded : null),
  ];
}

/**
 * Everything that was predicted for the build after, beside what was measured on it: by the plan that it followed, and by the
 * curve of the build before. Empty where nothing was.
 */
export function predictedRows(
  before: BuildRecord,
  after: BuildRecord,
  plan: PlanVersion | null,
): readonly PredictedRow[] {
  const kept = chosenResults(before, after);
  return [
    ...((plan?.fields.noLoad.amps ?? null) === null ? fromCurve(before, after, kept) : []),
    ...(plan === null
      ? []
      : [...noLoadPlanned(plan, after, kept), ...outputsPlanned(plan, kept[1]), ...heatPlanned(plan, after)]),
  ];
}
