import { formatNumber } from '../../quantity/format.ts';
import { takeApart } from '../../quantity/sources.ts';
import { line, type WorkingLine } from '../answer.ts';
import { inducedSquare, placeOf, turnsOf, type Bench } from './bench.ts';
import type { Prediction } from './predict.ts';

const n = (value: number) => formatNumber(value, 6);

/** How one point comes onto the curve, and how each prediction is read off it. */
export function workingOf(
  bench: Bench,
  highest: number,
  predictions: readonly Prediction[],
  knee: number | null,
): readonly WorkingLine[] {
  const { values } = takeApart(bench);
  const point = values.points[highest];
  if (point === undefined) return [];
  const turns = turnsOf(values, point);
  const { perTurn, ampereTurns } = placeOf(values, point);
  const part = Math.sqrt(inducedSquare(values, point));
  const read = point.averageVolts ?? point.volts;
  return [
    line('E / U', '√(1 − (2 R Pfe + (R I)²) / U²)', `point ${highest}`, part, ''),
    line('v', 'U × E/U × f/f_point / N', `${n(read)} × ${n(part)} / ${n(turns)}`, Math.exp(perTurn), 'V/turn'),
    line('F', 'N I', `${n(turns)} × ${n(point.amps)}`, Math.exp(ampereTurns), 'A'),
    ...(knee === null
      ? []
      : [line('Uk', 'I(1.1 Uk) / I(Uk) = 1.5', `N = ${n(values.primaryTurns)}, by that step on the curve`, knee, 'V')]),
    ...predictions.flatMap(({ addedTurns, voltsPerTurn, amps }) => {
      const now = values.primaryTurns + addedTurns;
      return [
        line(
          `v(${addedTurns})`,
          'v with (v N)² + 2 R Pfe(v) + (R I)² = U²',
          `N = ${n(now)}, U = ${n(values.supplyVolts)}`,
          voltsPerTurn.value,
          'V/turn',
        ),
        line(`I(${addedTurns})`, 'F(v) / N', `${n(amps.value * now)} / ${n(now)}`, amps.value, 'A'),
      ];
    }),
  ];
}
