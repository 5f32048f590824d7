/** The sign between whole and fraction. */
export type DecimalMark = '.' | ',';

/** Anything that was measured or derived, as far as writing it down goes. */
export interface Written {
  readonly value: number;
  readonly u: number | null;
  readonly unit: string;
}

/** From this power of ten up, or below its negative, plain digits become unreadable and a common power is split off. */
const powerSplitOff = 6;

const marked = (digits: string, mark: DecimalMark) => (mark === ',' ? digits.replace('.', ',') : digits);

/** Power of ten of the first digit, after rounding to `figures` digits; 0 for 0. */
const powerOf = (x: number, figures: number) => (x === 0 ? 0 : Number(x.toExponential(figures - 1).split('e')[1]));

/** `value` rounded to `decimals` places; negative ones round to tens, hundreds ... */
function fixed(value: number, decimals: number): string {
  if (decimals >= 0) return withoutMinusZero(value.toFixed(decimals));
  const step = 10 ** -decimals;
  return withoutMinusZero((Math.round(value / step) * step).toFixed(0));
}

const withoutMinusZero = (digits: string) => (Number(digits) === 0 ? digits.replace('-', '') : digits);

/** `value` to so many significant figures, without padding zeros or a needless exponent: `0.1234`, `12.5`, `3.1e-9`. */
export function formatNumber(value: number, figures = 6, mark: DecimalMark = '.'): string {
  const power = powerOf(value, figures);
  if (power >= Math.max(figures, powerSplitOff + 1) || power < -powerSplitOff) {
    return marked(
      value
        .toExponential(figures - 1)
        .replace(/\.?0+e/, 'e')
        .replace('e+', 'e'),
      mark,
    );
  }
  return marked(String(Number(fixed(value, figures - 1 - power))), mark);
}

/**
 * Writes a quantity in the usual way: two significant digits of the standard uncertainty, the value rounded to match
 * (JCGM 100:2008, 7.2.6): `120.20 ± 0.41 turns`. An exact value stands alone; an unknown uncertainty is said.
 */
export function formatEstimate({ value, u, unit }: Written, mark: DecimalMark = '.'): string {
  const after = unit === '' || unit === '1' ? '' : ` ${unit}`;
  if (u === null) return `${formatNumber(value, 4, mark)}${after} (uncertainty not known)`;
  if (u === 0) return `${formatNumber(value, 6, mark)}${after}`;
  const power = Math.max(powerOf(Math.abs(value), 2), powerOf(u, 2));
  if (Math.abs(power) > powerSplitOff) {
    const scale = 10 ** power;
    return `(${pair(value / scale, u / scale, mark)}) × 10^${power}${after}`;
  }
  return `${pair(value, u, mark)}${after}`;
}

/**
 * Writes the ends of a 95 % interval as the quantity is written that it belongs to: `106.9 to 133.4` beside `120.2 ± 7.9`.
 * A quarter of its width stands for the standard uncertainty.
 */
export function formatInterval([low, high]: readonly [number, number]): string {
  const power = powerOf((high - low) / 4, 2);
  const size = powerOf(Math.max(Math.abs(low), Math.abs(high)), 2);
  const isPlain = high > low && Math.abs(Math.max(power, size)) <= powerSplitOff;
  const [from, to] = [low, high].map((end) => (isPlain ? fixed(end, Math.min(1 - power, 20)) : formatNumber(end, 5)));
  return `${from} to ${to}`;
}

function pair(value: number, u: number, mark: DecimalMark): string {
  const decimals = 1 - powerOf(u, 2);
  return `${marked(fixed(value, Math.min(decimals, 20)), mark)} ± ${marked(fixed(u, Math.min(decimals, 20)), mark)}`;
}
