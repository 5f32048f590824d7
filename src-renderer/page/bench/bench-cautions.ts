/** Cautions of the bench, by their id in the trade; those with a figure are functions of it. */
export const benchCautions = {
  'c-var': 'A common variable transformer does not isolate: its output is joined to the mains at every setting.',
  'c-rcd': 'An RCD/GFCI trips on current to earth. It does not act on current between two ends of an isolated winding.',
  'c-lamp': 'Dim: as expected. Bright and steady: shorted turn, opposed windings or wrong voltage. Power off.',
  'c-unknown':
    'This winding’s turns are not known. With power on it may stand at thousands of volts. Insulate each end alone, or ' +
    'take the winding out before testing.',
  'c-core':
    'One end of this winding is joined to the core. Without an earth wire the core itself can stand at that winding’s ' +
    'voltage.',
} as const satisfies Readonly<Record<string, string>>;

/** c-step: what the fed volts make of another winding. */
export const stepCaution = (fedVolts: string, volts: string, winding: string): string =>
  `${fedVolts} here puts about ${volts} on the ${winding}.`;

/** c-pins: what the plug of the transformer stands at. */
export const pinsCaution = (volts: string): string =>
  `With power on, the plug’s pins will stand at about ${volts}. Cover them.`;
