import { formatNumber } from '../../quantity/format.ts';
import { caution, type Caution } from '../answer.ts';
import { placeWords } from '../place-words.ts';
import type { TestCoilInput } from './input.ts';
import type { Candidate } from './miscount.ts';
import type { Observation } from './observation.ts';
import type { NoSuggestion, Suggestion } from './suggestion.ts';

const named = (readings: readonly number[]) => placeWords('reading', readings);

const wouldFit = ({ readings, coilTurns, turnsThatFit }: Candidate) =>
  `${named(readings)} would fit with ${formatNumber(turnsThatFit, 3)} coil turns instead of ${coilTurns}`;

/** What there is to say when observations do not agree. */
export function cautionsOnDisagreement(
  observations: readonly Observation[],
  isConsistent: boolean,
  found: readonly Candidate[],
  suspected: Candidate | null,
): readonly Caution[] {
  if (isConsistent) return [];
  if (suspected !== null) {
    const half = Math.abs(suspected.turnsThatFit - suspected.coilTurns);
    const why = suspected.isWhole
      ? 'Count that coil again.'
      : Math.abs(half - 0.5) < 0.15
        ? 'That is half a turn: do both leads leave on the same side?'
        : 'No whole number of turns explains it: a meter or a range may be wrong instead.';
    return [caution('miscount-suspected', `The other readings agree, and ${wouldFit(suspected)}. ${why}`)];
  }
  const which =
    found.length > 0
      ? `Any of these would explain it: ${found.map(wouldFit).join('; ')}.`
      : `No single coil explains it among ${named(observations.flatMap(({ readings }) => readings))}.`;
  return [
    caution(
      'readings-disagree',
      `The readings disagree by more than their uncertainty. ${which} The uncertainty was widened to hold them all.`,
    ),
  ];
}

/** What the circumstances of the readings ask to be said. */
export function cautionsOnCircumstances(
  input: TestCoilInput,
  observations: readonly Observation[],
): readonly Caution[] {
  const { readings, hertz } = input;
  const isInPair = new Set(observations.flatMap((each) => (each.readings.length === 2 ? each.readings : [])));
  const alone = readings.flatMap(({ swapped }, index) => (swapped && !isInPair.has(index) ? [index] : []));
  const low = readings.flatMap(({ coilVolts, coilRangeVolts }, index) =>
    coilRangeVolts !== undefined && coilVolts.value < 0.05 * coilRangeVolts.value ? [index] : [],
  );
  const exactly = readings.some(
    ({ coilVolts, primaryVolts }) =>
      coilVolts.u === 0 && primaryVolts.u === 0 && coilVolts.shared === undefined && primaryVolts.shared === undefined,
  );
  const unknown = readings.some(({ coilVolts, primaryVolts }) => coilVolts.u === null || primaryVolts.u === null);
  const kinds = readings.some(
    ({ coilMeterKind: a, primaryMeterKind: b }) => a !== undefined && b !== undefined && a !== b,
  );
  const said: readonly [boolean, string, string][] = [
    [
      unknown,
      'uncertainty-not-known',
      'The uncertainty of a reading is not known, so that of the turns is not either.',
    ],
    [
      exactly,
      'readings-taken-as-exact',
      "A reading without uncertainty counts as exact: the meter's own error is not in the result.",
    ],
    [
      alone.length > 0,
      'swap-without-partner',
      `With ${named(alone)} the meters were exchanged, but no straight reading of the same coil goes with it: gains do not cancel.`,
    ],
    [
      low.length > 0,
      'bottom-of-range',
      `At ${named(low)} the coil is under 5 % of the meter's range, where a.c. ranges are poor: take more coil turns or a lower range.`,
    ],
    [
      kinds,
      'mixed-meter-kinds',
      'A true-rms and an average-responding meter were used in one ratio: 1 % was allowed for it (common practice).',
    ],
    [
      readings.some(({ position }) => position === 'outer-limb'),
      'outer-limb',
      'A coil round an outer limb sees about half the flux: 5 % was allowed for it (common practice). Not for a final count.',
    ],
    [
      readings.some(({ position }) => position === 'beyond-shunts'),
      'beyond-shunts',
      'A coil beyond magnetic shunts reads about 2 to 6 % low, so the count may be too high by as much; it is not in the uncertainty.',
    ],
    [
      hertz !== undefined && (hertz.value < 45 || hertz.value > 65),
      'not-mains-frequency',
      'The coil is not at 50 or 60 Hz: an electronic supply or a dimmer does not give a wave that this test can use.',
    ],
  ];
  return said.flatMap(([applies, code, text]) => (applies ? [caution(code, text)] : []));
}

const noSuggestion: Readonly<Record<NoSuggestion, string>> = {
  'gain-dominates':
    "No coil would pin one turn: the meters' gain dominates. Use one meter on one range for both, or read again with the meters exchanged.",
  'primary-reading-dominates':
    'No coil would pin one turn: the primary reading itself is too doubtful. Read it on a lower range, at lower volts.',
  'more-turns-than-the-primary':
    'A coil that pins one turn would need more turns than the primary: use a lower range for the coil.',
  'no-uncertainty-stated': "How many coil turns pin one turn cannot be told without the readings' uncertainty.",
};

/** Why no coil is suggested. */
export const cautionsOnSuggestion = ({ reason }: Suggestion): readonly Caution[] =>
  reason === null ? [] : [caution(reason, noSuggestion[reason])];
