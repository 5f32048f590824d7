import { formatEstimate, formatNumber, type Written } from './format.ts';

/** A quantity as three texts, so that each can have its own size; `u` null when there is none to show. */
export interface WrittenParts {
  readonly value: string;
  readonly u: string | null;
  readonly unit: string;
}

/** Value and uncertainty rounded to match each other, apart from the unit. */
export function writtenParts({ value, u, unit }: Written): WrittenParts {
  const shown = unit === '1' ? '' : unit;
  if (u === null || u === 0) return { value: formatNumber(value, u === null ? 4 : 6), u: null, unit: shown };
  const [left, right] = formatEstimate({ value, u, unit: '' }).split(' ± ');
  if (left === undefined || right === undefined || right.includes(')')) {
    return { value: formatEstimate({ value, u, unit: '' }), u: null, unit: shown };
  }
  return { value: left.replace('-', '−'), u: right, unit: shown };
}
