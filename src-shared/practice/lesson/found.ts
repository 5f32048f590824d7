import * as v from 'valibot';
import type { LastProof } from '../../interlock/proof.ts';
import type { Result } from '../../record/run.ts';
import type { TrueCurrent } from './truth.ts';

const finite = v.pipe(v.number(), v.finite());

/** What was found, with its interval, beside the hidden truth; all in one unit. */
export const FoundRow = v.strictObject({
  what: v.string(),
  /** `''` for a count. */
  unit: v.string(),
  low: finite,
  high: finite,
  truth: finite,
  /** The interval holds the truth. */
  holds: v.boolean(),
});
export type FoundRow = v.InferOutput<typeof FoundRow>;

const Interval = v.object({ interval95: v.tuple([finite, finite]) });
const Turns = v.object({ ok: v.literal(true), results: v.object({ primaryTurns: Interval }) });
const Ohms = v.object({ ok: v.literal(true), results: v.object({ ohmsAt20: Interval }) });
const Final = v.object({ ok: v.literal(true), results: v.object({ finalCelsius: Interval }) });
const Measured = v.union([
  v.pipe(
    finite,
    v.transform((value) => ({ value, u: 0, shared: undefined })),
  ),
  v.object({
    value: finite,
    u: v.nullish(finite),
    shared: v.nullish(v.object({ u: finite })),
  }),
]);
const NoLoad = v.object({ volts: Measured, amps: Measured });

const rowOf = (what: string, unit: string, [low, high]: readonly [number, number], truth: number): FoundRow => ({
  what,
  unit,
  low,
  high,
  truth,
  holds: low <= truth && truth <= high,
});

/** A kept count of turns beside the true one; null for any other result. */
export function turnsRow({ calculation, output }: Result, of: string, truth: number): FoundRow | null {
  const read = v.safeParse(Turns, output);
  if (calculation !== 'test-coil' || !read.success) return null;
  return rowOf(`${of}: turns of the primary`, '', read.output.results.primaryTurns.interval95, truth);
}

/** A kept resistance at 20 °C beside the true one; null for any other result. */
export function ohmsRow({ calculation, output }: Result, of: string, truth: number): FoundRow | null {
  const read = v.safeParse(Ohms, output);
  if (calculation !== 'four-wire-resistance' || !read.success) return null;
  return rowOf(`${of}: primary at 20 °C`, 'Ω', read.output.results.ohmsAt20.interval95, truth);
}

/** The final temperature of a kept heat run beside the true one; null for any other result. */
export function heatRow({ calculation, output }: Result, of: string, truth: number): FoundRow | null {
  const read = v.safeParse(Final, output);
  if (calculation !== 'heat-run' || !read.success) return null;
  return rowOf(`${of}: core, where it ends`, '°C', read.output.results.finalCelsius.interval95, truth);
}

/** What a kept no-load point says: volts and amps, each with its standard uncertainty. */
interface NoLoadPoint {
  readonly volts: number;
  readonly voltsU: number;
  readonly amps: number;
  readonly ampsU: number;
}

/** The point of a kept no-load result; null for any other result, and where the doubt of a figure is not known. */
export function noLoadPoint({ calculation, input }: Result): NoLoadPoint | null {
  const read = v.safeParse(NoLoad, input);
  if (calculation !== 'no-load' || !read.success) return null;
  const doubt = ({ u, shared }: v.InferOutput<typeof Measured>) =>
    u === null || u === undefined ? null : Math.hypot(u, shared?.u ?? 0);
  const [voltsU, ampsU] = [doubt(read.output.volts), doubt(read.output.amps)];
  if (voltsU === null || ampsU === null) return null;
  return { volts: read.output.volts.value, voltsU, amps: read.output.amps.value, ampsU };
}

/** Of a normal quantity 95 % lie within so many of its standard uncertainties (JCGM 100:2008, table G.1). */
const k95 = 1.96;

/** The doubt of a current at stated volts: its own, and that of the volts by how the current goes with them. */
const currentU = ({ volts, voltsU, amps, ampsU }: NoLoadPoint, { exponent }: TrueCurrent): number =>
  Math.hypot(ampsU, (amps * exponent * voltsU) / volts);

const figure = (value: number): string => value.toFixed(value < 100 ? 1 : 0);

/** A no-load current at its volts beside the true one at the same. */
export function currentRow(point: NoLoadPoint, of: string, truth: TrueCurrent): FoundRow {
  const half = k95 * currentU(point, truth);
  const what = `${of}: no-load current at ${figure(point.volts)} V`;
  return rowOf(what, 'A', [point.amps - half, point.amps + half], truth.amps);
}

/** By how much the current fell from one build to the next, each at its own volts, beside the true fall. */
export function fallRow(
  before: { readonly point: NoLoadPoint; readonly truth: TrueCurrent },
  after: { readonly point: NoLoadPoint; readonly truth: TrueCurrent },
): FoundRow {
  const fall = before.point.amps - after.point.amps;
  const half = k95 * Math.hypot(currentU(before.point, before.truth), currentU(after.point, after.truth));
  const what = `By how much the current fell, at ${figure(before.point.volts)} V before and ${figure(after.point.volts)} V after`;
  return rowOf(what, 'A', [fall - half, fall + half], before.truth.amps - after.truth.amps);
}

/** The volts that a proof read on the circuit, by magnitude, in their order. */
export const circuitVolts = ({ readings }: LastProof): readonly number[] =>
  readings.flatMap(({ point, result }) =>
    (point.kind === 'pair' || point.kind === 'winding') && result.kind === 'volts' ? [Math.abs(result.volts)] : [],
  );

/** What a proof found at most on the circuit: from nothing to the bound under which it counts as dead, beside the truth. */
export function proofRow(volts: readonly number[], deadVolts: number, truth: number): FoundRow {
  const highest = Math.max(0, ...volts);
  const what = `${volts.length} readings on the circuit, the highest ${highest.toFixed(3)} V: dead is under`;
  return rowOf(what, 'V', [0, deadVolts], truth);
}
