import * as v from 'valibot';
import type { PhysicalResult } from '../../../src-shared/calculation/answer.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { coreHeat } from '../../../src-shared/comparison/core-heat.ts';
import { voltsOf } from '../../../src-shared/comparison/side.ts';
import type { Result, Run } from '../../../src-shared/record/run.ts';
import type { Session } from '../../../src-shared/record/session.ts';
import type { Prediction } from './added-turns.ts';
import type { PlanNumbers } from './plan-asked.ts';
import type { PlanBasis } from './plan-record.ts';
import type { OutputDone, PlannedAll } from './planned.ts';

interface Known {
  readonly value: number;
  readonly u: number | null;
}

/** How warm the core will run; or what has to be measured before anybody can say. */
export interface PlannedHeat {
  /** With nothing on the output, and with every output loaded, in K, if it stays on; null where it is not known. */
  readonly noLoad: PhysicalResult | null;
  readonly loaded: PhysicalResult | null;
  /** Everything that heats it then. */
  readonly loadedWatts: PhysicalResult | null;
  /** When the heat run that it rests on was taken, and whether it is practice; null without one. */
  readonly by: { readonly wallMs: number; readonly practice: boolean } | null;
  readonly timeConstant: Known | null;
  /** What is missing, each as a sentence. */
  readonly missing: readonly string[];
  readonly cautions: readonly string[];
}

const finite = v.pipe(v.number(), v.finite());
const Measured = v.union([
  finite,
  v.looseObject({ value: finite, u: v.nullable(finite), shared: v.optional(v.looseObject({ u: finite })) }),
]);
const NoLoad = v.looseObject({
  watts: Measured,
  hertz: v.optional(v.union([finite, v.looseObject({ value: finite })])),
});

/** Watts read further from the volts in question say too little of them. */
const nearVolts = 0.05;

/** The no-load watts of a build brought to `volts` with their square, the step itself in doubt by half; null without any near. */
function wattsAt(results: readonly Result[], buildId: number, volts: number): Known | null {
  const near = results.flatMap((result) => {
    const read = v.safeParse(NoLoad, result.input);
    const at = voltsOf(result);
    if (result.buildId !== buildId || result.calculation !== 'no-load' || !read.success || at === null) return [];
    const apart = Math.abs(at / volts - 1);
    return apart > nearVolts ? [] : [{ watts: read.output.watts, factor: (volts / at) ** 2, apart }];
  });
  const [best] = near.sort((one, other) => one.apart - other.apart);
  if (best === undefined) return null;
  const { watts, factor } = best;
  const value = (typeof watts === 'number' ? watts : watts.value) * factor;
  if (typeof watts === 'number') return { value, u: Math.abs(value * (factor - 1)) / 2 };
  if (watts.u === null) return { value, u: null };
  const own = Math.hypot(watts.u, watts.shared?.u ?? 0) * factor;
  return { value, u: Math.hypot(own, (value * (factor - 1)) / 2) };
}

/** Loss in all windings with every output loaded: what the outputs share of the primary counts as its square. */
function copperWatts(done: readonly OutputDone[]): Known {
  const amps = done.map(({ results }) => results.primaryAmps.value);
  const [first] = done;
  const ohms =
    first === undefined ? 0 : (first.choice.copperLoss.value - first.choice.secondaryLoss.value) / (amps[0] ?? 1) ** 2;
  const sum = amps.reduce((all, each) => all + each, 0);
  const together = ohms * (sum ** 2 - amps.reduce((all, each) => all + each ** 2, 0));
  const doubts = done.map(({ choice }) => choice.copperLoss.u);
  return {
    value: done.reduce((all, { choice }) => all + choice.copperLoss.value, together),
    u: doubts.some((u) => u === null) ? null : doubts.reduce<number>((all, u) => all + (u ?? 0), 0),
  };
}

/** What the record holds of the core. */
export interface HeatRecord {
  readonly results: readonly Result[];
  readonly runs: readonly Run[];
  readonly sessions: readonly Session[];
}

/** How warm the core of a plan will run, by a heat run at no load of the same build and the watts that heated it then. */
export function plannedHeat(
  { build, primary }: PlanBasis,
  { primaryVolts, added = 0 }: PlanNumbers,
  hertz: 50 | 60,
  { outputs }: PlannedAll,
  prediction: Prediction | undefined,
  record: HeatRecord,
): PlannedHeat {
  const heat = coreHeat(record, build.buildId, 'heat-run');
  const supply = record.sessions.find(({ sessionId }) => sessionId === heat?.run.sessionId)?.fields.supply;
  const heating = supply === undefined ? null : wattsAt(record.results, build.buildId, supply.volts);
  const core =
    prediction?.watts ??
    (added !== 0 || primaryVolts === undefined ? null : wattsAt(record.results, build.buildId, primaryVolts));
  const missing = [
    ...(heat === null
      ? ['A heat run at no load of this build: where it ends tells how well it gets rid of its heat.']
      : []),
    ...(heat !== null && heating === null ? ['The no-load watts at the volts of its heat run.'] : []),
    ...(supply !== undefined && supply.hertz !== hertz ? [`A heat run at ${hertz} Hz.`] : []),
    ...(core === null
      ? [
          added === 0
            ? 'The no-load watts at these volts.'
            : 'A no-load sweep with watts: the loss with the added turns.',
        ]
      : []),
  ];
  const by = heat === null ? null : { wallMs: heat.result.wallMs, practice: heat.run.practice };
  const nothing = { noLoad: null, loaded: null, loadedWatts: null, by, timeConstant: heat?.timeConstant ?? null };
  if (heat === null || heating === null || core === null || supply?.hertz !== hertz) {
    return { ...nothing, missing, cautions: [] };
  }
  const riseWith = (copper: Known | 0) =>
    calculate('rise-at-load', {
      measuredRise: heat.rise,
      measuredWatts: heating,
      coreWatts: { value: core.value, u: core.u },
      copperWatts: copper,
    });
  const noLoad = riseWith(0);
  const done = outputs.flatMap((state) => (state.kind === 'done' ? [state] : []));
  const isWhole = done.length === outputs.length && primary?.ohms !== undefined;
  const loaded = isWhole ? riseWith(copperWatts(done)) : null;
  return {
    ...nothing,
    noLoad: noLoad.ok ? noLoad.results.rise : null,
    loaded: loaded?.ok === true ? loaded.results.rise : null,
    loadedWatts: loaded?.ok === true ? loaded.results.watts : null,
    missing:
      primary?.ohms === undefined
        ? [...missing, 'The resistance of the primary, for the rise with the load.']
        : missing,
    cautions: loaded?.ok === true ? loaded.cautions.map(({ text }) => text) : [],
  };
}
