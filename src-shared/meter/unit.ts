/** Every unit that a reading can have. Temperatures are in °C; a line in °F is converted when it is read. */
export const meterUnits = ['V', 'A', 'W', 'VA', 'var', 'Ω', 'Hz', '°C', 'Wh', 'F'] as const;
export type MeterUnit = (typeof meterUnits)[number];

/** What a meter's range passes on: the alternating part, the mean, or both. */
export const couplings = ['ac', 'dc', 'ac+dc'] as const;
export type Coupling = (typeof couplings)[number];

/** The units of an energised circuit: only these carry a coupling. */
export const carriesCoupling = (unit: MeterUnit): boolean => ['V', 'A', 'W', 'VA', 'var'].includes(unit);
