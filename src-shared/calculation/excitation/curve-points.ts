import { propagateEach } from '../../quantity/propagate.ts';
import { physical, type PhysicalResult } from '../answer.ts';
import { placeOf, type Bench } from './bench.ts';
import type { Model, Plans } from './model.ts';

/** One measured point as it lies on the curve. */
export interface CurvePoint {
  /** Its index among the points given. */
  readonly point: number;
  readonly voltsPerTurn: PhysicalResult;
  readonly ampereTurns: PhysicalResult;
  /** Of the core alone; only where watts were read. */
  readonly coreWatts?: PhysicalResult;
}

/** The points at some indices as they lie on the curve, lowest first. */
export function curvePoints(bench: Bench, indices: readonly number[]): readonly CurvePoint[] {
  const { points, ...rest } = bench;
  const found = indices.flatMap((index) => {
    const reading = points[index];
    if (reading === undefined) return [];
    const rows = propagateEach({ ...rest, points: { [index]: reading } }, (values) => {
      const point = values.points[index];
      if (point === undefined) return [];
      const place = placeOf({ ...values, points: [] }, point);
      return [place.perTurn, place.ampereTurns, ...(place.coreWatts === null ? [] : [place.coreWatts])].map(Math.exp);
    });
    const [perTurn, ampereTurns, core] = rows;
    if (perTurn === undefined || ampereTurns === undefined) return [];
    const point: CurvePoint = {
      point: index,
      voltsPerTurn: physical('V/turn', perTurn),
      ampereTurns: physical('A', ampereTurns),
      ...(core === undefined ? {} : { coreWatts: physical('W', core) }),
    };
    return [point];
  });
  return found.toSorted((a, b) => a.voltsPerTurn.value - b.voltsPerTurn.value);
}

/** Steps of the drawn curve. */
const drawnSteps = 60;

/** Volts per turn and ampere-turns in turn, evenly spread over the curve in logarithms. */
export function drawnCurve({ ampereTurns }: Model, { current: { from, to } }: Plans): readonly number[] {
  return Array.from({ length: drawnSteps + 1 }, (_, k) => {
    const x = from + ((to - from) * k) / drawnSteps;
    return [Math.exp(x), Math.exp(ampereTurns(x))];
  }).flat();
}
