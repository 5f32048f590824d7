import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';

/** A number as it stands in a box, every figure of it. */
export const boxed = (value: number): string => formatNumber(value, 9);

/** What a typed number comes to; one that cannot be read is refused by the description's schema as not finite. */
export function typedNumber(text: string): number {
  const parsed = parseNumber(text);
  return parsed.ok ? parsed.value : Number.NaN;
}

/** Seconds as typed, in whole ms. */
export const typedMs = (seconds: string): number => Math.round(typedNumber(seconds) * 1000);
