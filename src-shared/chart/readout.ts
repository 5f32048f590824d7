import type { Chart } from './chart.ts';
import { nearestPoint } from './interpolate.ts';

/** What a curve shows at the cursor. */
export interface ReadoutLine {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly x: number;
  readonly value: number;
}

/** The point of each curve that is nearest to a place and not further than `reach` from it. */
export const readoutAt = ({ curves }: Pick<Chart, 'curves'>, x: number, reach: number): readonly ReadoutLine[] =>
  curves.flatMap(({ id, label, unit, ...columns }) => {
    const point = nearestPoint(columns, x, reach);
    return point === null ? [] : [{ id, label, unit, x: point.x, value: point.y }];
  });
