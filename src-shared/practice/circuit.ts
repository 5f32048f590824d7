import { holding, losing, type Iron } from './iron.ts';

/** A winding as the simulation sees it, in SI units. */
export interface Coil {
  /** Passes through the window; a half turn counts as half. Negative when it is joined the wrong way round. */
  readonly turns: number;
  /** All resistance in its loop, the load's, the source's and a bad joint's included, in Ω. */
  readonly ohms: number;
  /** Leakage of its own, a choke's and the source's included, in H. */
  readonly henries: number;
}

/** What turns flux and currents into each other: one core, the coil that is fed, and the coils that carry a load. */
export interface Circuit {
  readonly iron: Iron;
  /** Volts of the source behind its own resistance: effective value, in V, and frequency, in Hz. */
  readonly volts: number;
  readonly hertz: number;
  readonly fed: Coil;
  /** Coils with a closed loop; an open coil carries nothing and is not part of the circuit. */
  readonly loaded: readonly Coil[];
}

/** Flux (in Wb) and the currents (in A; the fed coil first) at two instants one step apart. */
export interface Instants {
  readonly flux: readonly [before: number, now: number];
  readonly amps: readonly (readonly [before: number, now: number])[];
}

/** What one step of the circuit comes to: the instants moved on, and how fast the flux changes at the newer one, in Wb/s. */
export interface Stepped {
  readonly instants: Instants;
  readonly rate: number;
}

const mostTries = 60;

/**
 * One step of length `h` (in s) to the instant at which the source stands at `sourceVolts`, by the second backward
 * difference (Gear 1971), which neither rings nor gains energy. Each loop gives its current as a straight line of the
 * flux; the ampere-turns then leave one equation in the flux, solved by Newton's method inside a bracket.
 */
export function step({ iron, hertz, fed, loaded }: Circuit, before: Instants, sourceVolts: number, h: number): Stepped {
  const angular = 2 * Math.PI * hertz;
  const [fluxBefore, fluxNow] = before.flux;
  const past = (4 * fluxNow - fluxBefore) / 3;
  /** The rate of change at the new instant, for a flux there. */
  const rateAt = (flux: number) => (1.5 * (flux - past)) / h;
  const loops = [fed, ...loaded].map(({ turns, ohms, henries }, index) => {
    const [older, newer] = before.amps[index] ?? [0, 0];
    const kept = (henries * (4 * newer - older)) / (2 * h);
    const impedance = ohms + (1.5 * henries) / h;
    const volts = index === 0 ? sourceVolts : 0;
    return {
      turns,
      newer,
      at: (rate: number) => (volts + kept - turns * rate) / impedance,
      perRate: turns / impedance,
    };
  });
  const drive = loops.reduce((sum, { turns, perRate }) => sum + turns * perRate, 0);

  /** Ampere-turns that are missing at a flux: falls as the flux rises. */
  const missing = (flux: number) => {
    const rate = rateAt(flux);
    const { value, slope } = holding(iron, flux);
    const loss = losing(iron, flux, rate, angular);
    const given = loops.reduce((sum, { turns, at }) => sum + turns * at(rate), 0);
    return {
      value: given - value - loss.value,
      slope: -(1.5 / h) * (drive + loss.byRate) - slope - loss.byFlux,
    };
  };

  const flux = solveFalling(missing, fluxNow + (fluxNow - fluxBefore), 0.05 * iron.areaM2);
  const rate = rateAt(flux);
  return {
    instants: { flux: [fluxNow, flux], amps: loops.map(({ newer, at }) => [newer, at(rate)] as const) },
    rate,
  };
}

/** Where a falling function is zero: Newton from a guess, kept inside a bracket that halves where Newton leaves it. */
function solveFalling(of: (x: number) => { value: number; slope: number }, guess: number, width: number): number {
  let [low, high] = [-Infinity, Infinity];
  let x = guess;
  for (let tries = 0; tries < mostTries; tries += 1) {
    const { value, slope } = of(x);
    if (value === 0) return x;
    if (value > 0) low = x;
    else high = x;
    const newton = x - value / slope;
    const isInside = slope < 0 && newton > low && newton < high;
    const next = isInside ? newton : halfway(low, high, x, value, width * 2 ** tries);
    if (Math.abs(next - x) <= 1e-13 * width + 1e-14 * Math.abs(x)) return next;
    x = next;
  }
  return x;
}

const halfway = (low: number, high: number, x: number, value: number, width: number): number =>
  Number.isFinite(low) && Number.isFinite(high) ? (low + high) / 2 : x + Math.sign(value) * width;
