import type { CoreFacts } from './core-facts.ts';

/** What may be missing of a core, in the order in which it tells most; the shelf can be sifted by each. */
export const missingKinds = [
  'primary-turns',
  'window',
  'iron',
  'mass',
  'primary-wire',
  'primary-ohms',
  'no-load',
  'heat-run',
  'insulation',
] as const;
export type MissingKind = (typeof missingKinds)[number];

/** Each as it is named on the shelf, and what it would tell. */
export const missingWords: Readonly<Record<MissingKind, { readonly what: string; readonly tells: string }>> = {
  'primary-turns': {
    what: 'Primary turns',
    tells: 'A test coil finds them: the flux and the turns of the need follow.',
  },
  window: { what: 'Window', tells: 'A caliper: whether the copper goes in.' },
  iron: { what: 'Tongue and stack', tells: 'A caliper: the flux, and the power for hours.' },
  mass: { what: 'Mass as pulled', tells: 'A scale: the power for minutes.' },
  'primary-wire': { what: 'Wire of the primary', tells: 'A gauge on one end: the room that it leaves.' },
  'primary-ohms': { what: 'Resistance of the primary', tells: 'Its metal, and its drop under load.' },
  'no-load': { what: 'No-load current', tells: 'What it takes of the circuit before any load.' },
  'heat-run': { what: 'Heat run', tells: 'How much heat is left for the load, and how fast it warms.' },
  insulation: { what: 'Insulation', tells: 'Whether it meets the figure that you choose.' },
};

/** What is not known of a core, most telling first. */
export function missingOf({ fields, ...facts }: CoreFacts): readonly MissingKind[] {
  const isWindowKnown =
    fields.windowWidth !== undefined && (fields.windowHeight !== undefined || fields.shape === 'toroid');
  const isMissing: Readonly<Record<MissingKind, boolean>> = {
    'primary-turns': facts.turns === null,
    window: !isWindowKnown,
    iron: fields.tongue === undefined || fields.stack === undefined,
    mass: fields.mass === undefined || fields.massIs === 'stripped',
    'primary-wire': facts.primaryWireMm === null,
    'primary-ohms': facts.primaryOhms === null,
    'no-load': facts.noLoadVoltAmperes === null,
    'heat-run': facts.heat === null,
    insulation: facts.insulation === null,
  };
  return missingKinds.filter((kind) => isMissing[kind]);
}
