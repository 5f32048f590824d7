import { formatNumber } from '../../quantity/format.ts';
import { caution, type Caution, type PhysicalResult } from '../answer.ts';
import { conductors } from '../conductor.ts';
import { hoursDensity, type SecondaryChoice } from './choice.ts';
import { longRunTesla } from './flux.ts';
import type { SecondaryInput } from './input.ts';
import type { Why } from './why.ts';

export interface Found {
  readonly choices: readonly SecondaryChoice[];
  readonly why: Why | null;
  readonly peakFluxDensity: PhysicalResult | null;
  readonly primaryDensity: PhysicalResult | null;
  readonly usesUnconfirmed: boolean;
}

/** Volts from which an output needs more than this program judges. */
export const lowVolts = 50;
const dowellWorthSaying = 1.05;
/** From here a joint can get hotter than the winding: common practice, no source. */
const heavyAmps = 50;
/** Volts off the target, relative, from which the step of one turn is worth saying. */
const coarse = 0.02;

/** K/s of a winding from which no heat leaves (IEC 60949, adiabatic form). */
const adiabatic = (density: number) =>
  (conductors.copper.resistivity20 * density ** 2) / 1000 / conductors.copper.volumeHeatCapacity;

function missing(given: SecondaryInput): readonly Caution[] {
  return [
    ...(given.primaryOhms === undefined
      ? [
          caution(
            'primary-ohms-not-known',
            'Without the resistance of the primary its drop is not in these volts: under load they come out lower.',
          ),
        ]
      : given.primaryMetal === undefined
        ? [
            caution(
              'primary-metal-assumed',
              'The metal of the primary is not told: its resistance was warmed as copper.',
            ),
          ]
        : []),
    ...(given.leakageOhms === undefined
      ? [
          caution(
            'leakage-not-known',
            'The leakage reactance is not known and counts as nothing: with shunts in, or a lagging load, the volts come out lower.',
          ),
        ]
      : []),
    ...(given.hertz === undefined
      ? [caution('hertz-not-known', 'Without the hertz neither flux nor the extra resistance of thick wire is known.')]
      : []),
  ];
}

function onFlux({ peakFluxDensity: peak }: Found, { hertz }: SecondaryInput): readonly Caution[] {
  if (peak === null) {
    return hertz === undefined
      ? []
      : [caution('flux-not-known', 'Without tongue and stack, or the iron area, the flux is not known.')];
  }
  return peak.value > longRunTesla
    ? [
        caution(
          'flux-high-for-long-runs',
          `The core runs at ${formatNumber(peak.value, 3)} T: above ${longRunTesla} T unknown steel is for short runs (common practice). More primary turns lower it, and every secondary in proportion.`,
        ),
      ]
    : [];
}

function onChoices({ choices }: Found, given: SecondaryInput): readonly Caution[] {
  const highest = Math.max(given.loadVolts.value, ...choices.map(({ noLoadVolts }) => noLoadVolts.value));
  const first = choices[0];
  const perTurn = given.primaryVolts.value / given.primaryTurns.value;
  return [
    ...(highest > lowVolts
      ? [
          caution(
            'c-out50',
            'An output over 50 V a.c. needs protection against touch that this program does not judge. Local rules and a licensed person decide.',
          ),
        ]
      : []),
    ...(first !== undefined && Math.abs(first.loadedVolts.value / given.loadVolts.value - 1) > coarse
      ? [caution('one-turn-is-coarse', `One turn = ${formatNumber(perTurn, 3)} V: whole turns come no nearer.`)]
      : []),
    ...(choices.some(({ strands }) => strands > 1)
      ? [
          caution(
            'strands-in-hand',
            'Strands in hand: equal lengths, side by side or transposed. Before joining the far ends measure between them at low volts: it must read near 0.',
          ),
        ]
      : []),
    ...(given.loadAmps.value >= heavyAmps
      ? [
          caution(
            'terminations',
            `At ${formatNumber(given.loadAmps.value, 3)} A one milliohm in a joint is ${formatNumber(given.loadAmps.value ** 2 / 1000, 2)} W: lugs are often the hottest thing. Measure millivolts across each.`,
          ),
        ]
      : []),
    ...(choices.some(({ acFactor }) => acFactor > dowellWorthSaying)
      ? [
          caution(
            'thick-conductor',
            'Thick conductors in many layers resist more than their copper says; that is counted after Dowell (1966), for windings one over the other.',
          ),
        ]
      : []),
  ];
}

function onDensity({ choices, primaryDensity }: Found, { maxCurrentDensity }: SecondaryInput): readonly Caution[] {
  const hottest = Math.max(0, ...choices.map(({ currentDensity }) => currentDensity.value));
  const rate = formatNumber(adiabatic(maxCurrentDensity), 2);
  return [
    ...(hottest > hoursDensity
      ? [
          caution(
            'not-for-hours',
            'Choices above about 3.5 A/mm² are for minutes, above about 6 A/mm² for bursts (common practice).',
          ),
        ]
      : []),
    ...(maxCurrentDensity > 10
      ? [caution('density-very-high', `At ${maxCurrentDensity} A/mm² copper warms by ${rate} K every second.`)]
      : []),
    ...(primaryDensity !== null && primaryDensity.value > hoursDensity
      ? [
          caution(
            'primary-density',
            `The primary would carry ${formatNumber(primaryDensity.value, 3)} A/mm² of this load alone: it gets hot first, whatever the secondary is wound with.`,
          ),
        ]
      : []),
  ];
}

export const cautionsOf = (given: SecondaryInput, found: Found): readonly Caution[] => [
  ...missing(given),
  ...onFlux(found, given),
  ...onChoices(found, given),
  ...onDensity(found, given),
  ...(found.why === null ? [] : [caution('none-fits', found.why.text)]),
  ...(found.usesUnconfirmed
    ? [
        caution(
          'wire-table-unconfirmed',
          'Some sizes come from tables that we have from memory: measure the wire before you rely on it.',
        ),
      ]
    : []),
];
