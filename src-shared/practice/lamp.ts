/** Cold resistance of a tungsten filament is this share of the hot one. Common practice, no source. */
const coldShare = 1 / 13;
/** A filament's resistance goes with this power of the power in it: heat goes with T^4, resistance with about T^1.2. */
const powerExponent = 0.3;

/** Resistance of a filament lamp of some watts at some volts while an effective current runs in it, in Ω. */
export function lampOhms(lamp: { readonly watts: number; readonly volts: number }, amps: number): number {
  const hot = (lamp.volts * lamp.volts) / lamp.watts;
  const cold = hot * coldShare;
  // R = hot (I² R / P)^p, solved for R.
  const found = (hot * ((amps * amps) / lamp.watts) ** powerExponent) ** (1 / (1 - powerExponent));
  return Math.max(cold, found);
}
