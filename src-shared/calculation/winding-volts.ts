import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { takeApart, type Values } from '../quantity/sources.ts';
import { caution, line, physical, refuse, worked } from './answer.ts';
import type { Caution, PhysicalResult, WorkingLine } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, flag, group, list, measured, optional, plainNumber, text, wholeNumber } from './field.ts';

const winding = group({
  name: text({ label: 'Name of the winding' }),
  role: choice(['primary', 'secondary', 'test-coil', 'other'], { label: 'Role' }),
  turns: optional(
    measured({ label: 'Turns', above: 0, help: 'Left out: not known. Then the winding counts as lethal.' }),
  ),
  onPlug: optional(flag({ label: 'Joined to the plug', help: 'Left out: a primary is, any other winding is not.' })),
  oneEndOnCore: optional(choice(['yes', 'no', 'not-looked'], { label: 'One end joined to the core' }), 'not-looked'),
});

const input = group({
  windings: list(winding, { label: 'Windings of the build', atMost: 50 }),
  fedIndex: wholeNumber({
    label: 'Which winding is fed',
    help: 'Its place in the list, counted from 0.',
    atLeast: 0,
    indexOf: 'windings',
  }),
  feedVolts: measured({ label: 'Volts it is fed with', unit: 'V', atLeast: 0 }),
  boundVolts: optional(
    plainNumber({
      label: 'Highest volts allowed anywhere',
      unit: 'V',
      above: 0,
      atMost: 50,
      help: '50 V a.c. in the dry, 25 V where it is damp.',
    }),
    50,
  ),
  isolatedSource: optional(
    flag({ label: 'The source is isolated from the mains', help: 'A variable autotransformer is not.' }),
    false,
  ),
});
type WindingVoltsInput = v.InferOutput<typeof input>;

export interface WindingVolts {
  readonly name: string;
  /** Null: not known, treat as lethal. */
  readonly volts: PhysicalResult | null;
  readonly isUnknown: boolean;
}

export interface WindingVoltsResults {
  readonly windings: readonly WindingVolts[];
  /** Across the plug's pins; null when a winding that is joined to it is unknown, or none is. */
  readonly plugVolts: PhysicalResult | null;
  /** Indices of windings whose volts nobody can tell. */
  readonly unknown: readonly number[];
  /** The highest of the known volts, plug included. */
  readonly highestVolts: PhysicalResult | null;
  /**
   * The most that the fed winding may get so that no known winding, nor the plug, passes the bound. Where turns are
   * estimates, the lower end of its interval is the one to set.
   */
  readonly highestFeedVolts: PhysicalResult;
  /** Which checks this asks for: `handful` only from an isolated source with everything known to stay within the bound. */
  readonly grade: 'handful' | 'base';
}

/** A place where volts can stand. */
interface Place {
  readonly name: string;
  /** Indices of the windings that are in series there. */
  readonly windings: readonly number[];
}

type Given = WindingVoltsInput['windings'][number];
const isOnPlug = ({ role, onPlug }: Given) => onPlug ?? role === 'primary';

/**
 * Volts at a place: those of the feed on the fed winding itself, otherwise by the turns; NaN where turns are not known.
 * Windings on the plug may be joined in series, so theirs add up: more than parallel ones would show.
 */
function voltsAt({ windings, fedIndex, feedVolts }: Values<WindingVoltsInput>, place: Place): number {
  const fedTurns = windings[fedIndex]?.turns ?? NaN;
  return place.windings
    .map((index) => (index === fedIndex ? feedVolts : (feedVolts * (windings[index]?.turns ?? NaN)) / fedTurns))
    .reduce((total, volts) => total + volts, 0);
}

function run(given: WindingVoltsInput) {
  const { windings, fedIndex, boundVolts, isolatedSource } = given;
  if (fedIndex >= windings.length) {
    const last = windings.length - 1;
    return refuse(
      'too-large',
      `There are ${windings.length} windings: the fed one counts from 0 to ${last}.`,
      'fedIndex',
    );
  }
  const onPlug = windings.flatMap((each, index) => (isOnPlug(each) ? [index] : []));
  const places: readonly Place[] = [
    ...windings.map(({ name }, index) => ({ name, windings: [index] })),
    ...(onPlug.length === 0 ? [] : [{ name: 'plug pins', windings: onPlug }]),
  ];
  const stands = places.map((place): Stand => {
    const found = propagate(given, (each) => voltsAt(each, place));
    return { place, volts: Number.isNaN(found.value) ? null : physical('V', found) };
  });
  // By the turns alone, so that it can also be told when the feed is 0 V.
  const stepUp = (each: Values<WindingVoltsInput>, place: Place) => voltsAt({ ...each, feedVolts: 1 }, place);
  const { values } = takeApart(given);
  const known = stands.filter(({ volts }) => volts !== null);
  const highest = known.reduce<Stand | null>(
    (most, one) => (most === null || stepUp(values, one.place) > stepUp(values, most.place) ? one : most),
    null,
  );
  const highestFeed = propagate(
    given,
    (each) => boundVolts / Math.max(1, highest === null ? 1 : stepUp(each, highest.place)),
  );
  const stays = (volts: PhysicalResult | null) => {
    const most = volts?.interval95?.[1];
    return most !== undefined && most <= boundVolts * (1 + 1e-9);
  };
  const ofWindings = stands.slice(0, windings.length);
  const results: WindingVoltsResults = {
    windings: ofWindings.map(({ place, volts }) => ({ name: place.name, volts, isUnknown: volts === null })),
    plugVolts: stands[windings.length]?.volts ?? null,
    unknown: ofWindings.flatMap(({ volts }, index) => (volts === null ? [index] : [])),
    highestVolts: highest?.volts ?? null,
    highestFeedVolts: physical('V', highestFeed),
    grade: isolatedSource && stands.every(({ volts }) => stays(volts)) ? 'handful' : 'base',
  };
  return worked(results, working(given, stands), cautionsOf(given, results));
}

interface Stand {
  readonly place: Place;
  /** Null: nobody can tell. */
  readonly volts: PhysicalResult | null;
}

function working({ windings, fedIndex, feedVolts }: WindingVoltsInput, stands: readonly Stand[]): WorkingLine[] {
  const n = (value: number) => formatNumber(value, 6);
  const fed = n(windings[fedIndex]?.turns?.value ?? NaN);
  return stands.flatMap(({ place, volts }) => {
    if (volts === null) return [];
    const symbol = `V(${place.name})`;
    if (place.windings.every((index) => index === fedIndex)) {
      return [line(symbol, 'V_fed', n(feedVolts.value), volts.value, 'V')];
    }
    const turns = place.windings.map((index) => n(windings[index]?.turns?.value ?? NaN)).join(' + ');
    const numerator = place.windings.length > 1 ? `(${turns})` : turns;
    return [line(symbol, 'V_fed × N / N_fed', `${n(feedVolts.value)} × ${numerator} / ${fed}`, volts.value, 'V')];
  });
}

function cautionsOf(given: WindingVoltsInput, results: WindingVoltsResults): readonly Caution[] {
  const { windings, fedIndex, boundVolts, isolatedSource } = given;
  const about = (volts: PhysicalResult) => formatNumber(volts.value, 3);
  const unknown = results.unknown.map((index) => windings[index]?.name ?? '');
  const over = results.windings.filter(
    ({ volts }, index) => index !== fedIndex && volts !== null && volts.value > boundVolts,
  );
  const { plugVolts } = results;
  return [
    ...unknown.map((name) =>
      caution(
        'unknown-winding',
        `The turns of "${name}" are not known, or those of the fed winding are not. With power on it may stand at thousands of volts. Insulate each end alone, or take the winding out before testing.`,
      ),
    ),
    ...over.map(({ name, volts }) =>
      caution('steps-up', `The feed puts about ${volts === null ? '' : about(volts)} V on "${name}".`),
    ),
    ...(plugVolts !== null && !(windings[fedIndex] !== undefined && isOnPlug(windings[fedIndex]))
      ? [caution('plug-live', `With power on, the plug's pins will stand at about ${about(plugVolts)} V. Cover them.`)]
      : []),
    ...(windings.filter(isOnPlug).length > 1
      ? [caution('plug-in-series', 'More than one winding is on the plug: their volts were added, as if in series.')]
      : []),
    ...windings.flatMap(({ name, oneEndOnCore }) =>
      oneEndOnCore === 'yes'
        ? [
            caution(
              'one-end-on-core',
              `One end of "${name}" is joined to the core. Without an earth wire the core itself can stand at that winding's voltage.`,
            ),
          ]
        : [],
    ),
    ...(isolatedSource
      ? []
      : [
          caution(
            'source-not-isolated',
            'The source is not isolated: every end may stand at mains voltage to earth, whatever this table says.',
          ),
        ]),
  ];
}

export const windingVolts = defineCalculation({
  name: 'winding-volts',
  title: 'What every winding and the plug will stand at',
  version: 1,
  sources: [
    'Volts are in proportion to turns; any machines text',
    'Extra-low voltage, 50 V a.c. and 25 V in the damp: IEC 60364-4-41',
  ],
  input,
  example: {
    windings: [
      { name: 'primary', role: 'primary', turns: { value: 120, u: 0.4 } },
      { name: 'high-voltage winding', role: 'other', turns: { value: 2000, u: 40 }, oneEndOnCore: 'yes' },
      { name: 'test coil', role: 'test-coil', turns: 10 },
    ],
    fedIndex: 0,
    feedVolts: 12,
    isolatedSource: true,
  },
  run,
});
