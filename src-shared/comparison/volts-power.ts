import * as v from 'valibot';
import type { Result } from '../record/run.ts';

/** A power of the supply volts with its standard uncertainty. */
export interface Power {
  readonly value: number;
  readonly u: number;
}

/** With which powers of the supply volts the no-load current and the loss in the iron go, round some volts. */
export interface VoltsPowers {
  readonly amps: Power;
  /** Null where no watts were read. */
  readonly watts: Power | null;
}

const finite = v.pipe(v.number(), v.finite());
const Measured = v.union([finite, v.looseObject({ value: finite })]);
const Quantity = v.looseObject({ value: finite, u: v.nullable(finite) });
const Curve = v.looseObject({
  input: v.looseObject({ primaryTurns: Measured }),
  output: v.looseObject({
    results: v.looseObject({
      drawn: v.array(finite),
      curve: v.array(v.looseObject({ voltsPerTurn: Quantity, ampereTurns: Quantity, coreWatts: v.optional(Quantity) })),
    }),
  }),
});

/** The curve is stepped by so much either way of the volts: enough that the doubt of its points does not make the slope. */
const step = 0.04;

interface Place {
  readonly x: number;
  readonly y: number;
}

/** On straight lines between ascending places; null beyond them. */
function between(places: readonly Place[], x: number): number | null {
  const index = places.findIndex((place) => place.x >= x);
  const [below, above] = [places[index - 1], places[index]];
  if (above === undefined || below === undefined) return above !== undefined && above.x === x ? above.y : null;
  return below.y + ((above.y - below.y) * (x - below.x)) / (above.x - below.x);
}

/**
 * The slope over the whole step in logarithms. Its doubt: what the curve bends within it, every slope between its two halves
 * equally likely; and `u`, the relative doubt of a point, at either end as if the two had nothing in common, which is too much
 * rather than too little.
 */
function slope(places: readonly Place[], volts: number, u: number): Power | null {
  const at = (part: number) => between(places, Math.log(volts * part));
  const [low, middle, high] = [at(1 - step), at(1), at(1 + step)];
  if (low === null || middle === null || high === null) return null;
  const [below, above] = [-Math.log(1 - step), Math.log(1 + step)];
  const bend = (high - middle) / above - (middle - low) / below;
  return {
    value: (high - low) / (below + above),
    u: Math.hypot(bend / Math.sqrt(12), (Math.SQRT2 * u) / (below + above)),
  };
}

/** The largest relative doubt of the points; null where nobody knows one. */
const doubtOf = (points: readonly v.InferOutput<typeof Quantity>[]): number | null =>
  points.some(({ u }) => u === null) ? null : Math.max(...points.map(({ value, u }) => (u ?? 0) / value));

const inLogs = (x: number, y: number): readonly Place[] => (x > 0 && y > 0 ? [{ x: Math.log(x), y: Math.log(y) }] : []);

/**
 * The powers from a kept excitation curve, round `volts` on `turns` turns: a point of one curve is known by its volts a turn,
 * however many turns carried the current. The winding's own drop is left out. Null where the curve does not reach so far.
 */
export function voltsPowers(kept: Result | undefined, volts: number, turns: number | null): VoltsPowers | null {
  const read = v.safeParse(Curve, kept);
  if (!read.success) return null;
  const { input, output } = read.output;
  const { drawn, curve } = output.results;
  const own = typeof input.primaryTurns === 'number' ? input.primaryTurns : input.primaryTurns.value;
  const perTurn = volts / (turns ?? own);
  const line = drawn.flatMap((x, index) => (index % 2 === 0 ? inLogs(x, drawn[index + 1] ?? 0) : []));
  const u = doubtOf(curve.map(({ ampereTurns }) => ampereTurns));
  const amps = u === null ? null : slope(line, perTurn, u);
  if (amps === null) return null;
  const lossy = curve.flatMap(({ voltsPerTurn, coreWatts }) =>
    coreWatts === undefined ? [] : [{ voltsPerTurn, coreWatts }],
  );
  const lossU = doubtOf(lossy.map(({ coreWatts }) => coreWatts));
  const losses = lossy.flatMap(({ voltsPerTurn, coreWatts }) => inLogs(voltsPerTurn.value, coreWatts.value));
  return { amps, watts: lossU === null ? null : slope(losses, perTurn, lossU) };
}
