import type { CoreFields } from '../record/core.ts';
import type { Winding } from '../record/build.ts';
import type { KeptValue } from '../record/run.ts';
import type { Supply } from '../record/session.ts';
import type { Answers } from './field.ts';

/** A kept point that still counts. `atMs` is from the start of the run. */
export interface StandingPoint {
  readonly atMs: number;
  readonly values: readonly KeptValue[];
  readonly fields: Answers;
}

/** One continuous reading as an input of a calculation: `u` in the channel's unit, null when nobody knows it. */
export interface SeriesPoint {
  readonly atMs: number;
  readonly value: number;
  readonly u: number | null;
  readonly shared: { readonly id: string; readonly u: number } | null;
}

/** The figures of an earlier result that a procedure builds on. */
export interface EarlierNoLoad {
  readonly volts: unknown;
  readonly amps: unknown;
  readonly watts?: unknown;
  readonly primaryOhms?: unknown;
}

/** What the plan that a build followed wants of one winding, in V at its own line volts. */
export interface WantedOutput {
  /** Label of the winding, as the plan calls it. */
  readonly label: string;
  /** At `loadAmps`, in A. */
  readonly loadVolts: number;
  readonly loadAmps: number;
  /** What it was to lose from no load to load; `u` null where nobody knows. */
  readonly dropVolts: { readonly value: number; readonly u: number | null };
  /** Line volts that the plan is for. */
  readonly lineVolts: number;
}

/** Everything that the result of a run is worked out from. Times are from the start of the run, in ms. */
export interface RunMaterial {
  readonly supply: Supply;
  readonly fedWindingId: number | null;
  readonly ambientCelsius: number | null;
  readonly core: CoreFields | null;
  readonly windings: readonly Pick<Winding, 'windingId' | 'fields'>[];
  readonly answers: Answers;
  readonly points: readonly StandingPoint[];
  /** Continuous readings by channel, oldest first, thinned to a bounded number. */
  readonly series: Readonly<Record<string, readonly SeriesPoint[]>>;
  /** First power on and last power off in the run; null when power was never declared, or not yet off. */
  readonly onAtMs: number | null;
  readonly offAtMs: number | null;
  /** What the meter of a channel responds to; absent when not known. */
  readonly responding: Readonly<Partial<Record<string, 'true-rms' | 'average'>>>;
  /** The last kept no-load result of the same build; null when there is none. */
  readonly earlierNoLoad: EarlierNoLoad | null;
  /** What was planned for the windings of this build; empty where no plan was followed. */
  readonly wanted: readonly WantedOutput[];
}

export interface Calculated {
  readonly calculation: string;
  readonly input: unknown;
}

/** What a run comes to so far. */
export type Work =
  /** Nothing can be worked out yet; what is missing, as a sentence. */
  | { readonly kind: 'waiting'; readonly sentence: string }
  | {
      readonly kind: 'ready';
      readonly main: Calculated;
      /** What follows besides, some of it from the main answer. */
      readonly besides?: (results: unknown) => readonly Calculated[];
    };

export const waiting = (sentence: string): Work => ({ kind: 'waiting', sentence });

export const ready = (
  calculation: string,
  input: unknown,
  besides?: (results: unknown) => readonly Calculated[],
): Work => ({ kind: 'ready', main: { calculation, input }, ...(besides === undefined ? {} : { besides }) });

/** A kept value as a measured input of a calculation. */
export const measuredOf = ({ value, u, shape, dof, shared }: KeptValue) => ({
  value,
  u,
  shape,
  dof,
  ...(shared === null ? {} : { shared }),
});

/** The value of a channel in a point as an input; undefined when the point has none. */
export function inputOf({ values }: StandingPoint, channel: string): ReturnType<typeof measuredOf> | undefined {
  const found = values.find((value) => value.channel === channel);
  return found === undefined ? undefined : measuredOf(found);
}

/** `{key: value}` when there is a value, else nothing: for inputs that are left out when not known. */
export const given = <K extends string, T>(key: K, value: T | null | undefined): Readonly<Record<string, T>> =>
  value === null || value === undefined ? {} : { [key]: value };

/** Half-width to standard uncertainty of a rectangle (JCGM 100:2008, 4.3.7). */
const rectangular = Math.sqrt(3);

/** A temperature that was typed from a thermometer of no description: good to 1 K (common practice, no source). */
export const typedCelsius = (value: number) => ({ value, u: 1 / rectangular, shape: 'rectangular' });

/** Resistance of the fed winding as the record holds it; undefined when it is not known. */
export function fedOhms({ windings, fedWindingId }: RunMaterial) {
  return windings.find(({ windingId }) => windingId === fedWindingId)?.fields.ohms;
}

/** The turns of a winding as an input; undefined when they are not known. */
export function turnsInput(winding: Pick<Winding, 'fields'> | undefined) {
  const turns = winding?.fields.turns;
  if (turns === undefined || turns.kind === 'unknown') return undefined;
  return turns.kind === 'counted' ? turns.turns : { value: turns.value, u: turns.u };
}
