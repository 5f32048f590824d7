/** A source of `open` volts behind resistance and reactance, feeding a current at a power factor: plain numbers in V, A, Ω. */
export interface Fed {
  readonly open: number;
  readonly amps: number;
  /** Of the load, 0 to 1. */
  readonly cosine: number;
  /** Of the load's current against its volts: positive where it lags. */
  readonly sine: number;
  readonly resistance: number;
  readonly reactance: number;
}

/**
 * Volts at the load, by the phasor diagram of a series impedance: open = |V + I (cos φ − j sin φ)(R + j X)|.
 * NaN when the current cannot flow at all.
 */
export function voltsAtLoad({ open, amps, cosine, sine, resistance, reactance }: Fed): number {
  const along = amps * (resistance * cosine + reactance * sine);
  const across = amps * (reactance * cosine - resistance * sine);
  return Math.sqrt(open ** 2 - across ** 2) - along;
}
