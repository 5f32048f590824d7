import { holding, losing } from '../../../src-shared/practice/iron.ts';
import type { Circuit } from '../../../src-shared/practice/circuit.ts';

/** Where a falling function is zero, by halving. */
function root(of: (x: number) => number, low: number, high: number): number {
  for (let halvings = 0; halvings < 48; halvings += 1) {
    const middle = (low + high) / 2;
    if (of(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Effective current of the fed coil and half the swing of the flux over the last of many periods. */
interface Found {
  readonly amps: number;
  readonly flux: number;
}

/**
 * The same circuit solved another way: the classical Runge-Kutta method in fixed small steps over many whole periods from
 * rest, with the rate of the flux found by halving at every stage. The fed coil's leakage must be there; a loaded coil with
 * leakage has its current followed as well. No mirror and no shortcut: the one-sided flux dies away by itself.
 */
export function byRungeKutta({ iron, volts, hertz, fed, loaded }: Circuit, periods: number, steps: number): Found {
  const angular = 2 * Math.PI * hertz;
  const h = 1 / (hertz * steps);
  const widest = (2 * volts * Math.SQRT2) / Math.abs(fed.turns);
  const followed = [fed, ...loaded.filter(({ henries }) => henries > 0)];
  const atOnce = loaded.filter(({ henries }) => henries === 0);
  const rateOf = (flux: number, amps: readonly number[]): number => {
    const given = followed.reduce((sum, { turns }, index) => sum + turns * (amps[index] ?? 0), 0);
    return root(
      (rate) => {
        const others = atOnce.reduce((sum, { turns, ohms }) => sum - (turns * turns * rate) / ohms, 0);
        return given + others - holding(iron, flux).value - losing(iron, flux, rate, angular).value;
      },
      -widest,
      widest,
    );
  };
  // The flux first, then the currents that are followed.
  const slopes = (t: number, [flux = 0, ...amps]: readonly number[]): readonly number[] => {
    const rate = rateOf(flux, amps);
    const source = volts * Math.SQRT2 * Math.cos(angular * t);
    const rises = followed.map(({ turns, ohms, henries }, index) => {
      const drive = index === 0 ? source : 0;
      return (drive - ohms * (amps[index] ?? 0) - turns * rate) / henries;
    });
    return [rate, ...rises];
  };
  const moved = (from: readonly number[], by: readonly number[], times: number): readonly number[] =>
    from.map((one, index) => one + (by[index] ?? 0) * times);

  let now: readonly number[] = [0, ...followed.map(() => 0)];
  let [squares, highest, lowest] = [0, 0, 0];
  for (let index = 0; index < periods * steps; index += 1) {
    const t = index * h;
    const one = slopes(t, now);
    const two = slopes(t + h / 2, moved(now, one, h / 2));
    const three = slopes(t + h / 2, moved(now, two, h / 2));
    const four = slopes(t + h, moved(now, three, h));
    const slope = one.map((first, at) => (first + 2 * (two[at] ?? 0) + 2 * (three[at] ?? 0) + (four[at] ?? 0)) / 6);
    now = moved(now, slope, h);
    if (index < (periods - 1) * steps) continue;
    const [flux = 0, amps = 0] = now;
    squares += amps ** 2;
    highest = Math.max(highest, flux);
    lowest = Math.min(lowest, flux);
  }
  return { amps: Math.sqrt(squares / steps), flux: (highest - lowest) / 2 };
}
