import { allWell, asExpected, n, suspect, type FaultReading, type Suspicion } from './fault-reading.ts';
import { loopOf, maybeOneTurn, maybeStrands, strandsAsTurn, type Loop } from './loop.ts';

/** Near the knee the current goes as the volts to this power (own simulation; sharper steels more). */
const power = { lowest: 4, highest: 6 };
/** Well below the knee the volts per turn count for less, in saturation for more: own simulation. */
const widest = { lowest: 2, highest: 10 };
/** Below nominal volts it falls with this power of them at least: hysteresis alone, own simulation. */
const slowest = 0.8;
/** A predicted figure fits when what was seen lies within this factor of it: common practice, no source. */
const slack = 1.15;
/** The flux density that a gap is told for where nobody knows it: usual for such cores (common practice, no source). */
const usualTesla = 1.5;
/** Gaps that a clamped or welded joint may have, in mm: common practice, no source. */
const gaps = { least: 0.01, most: 0.5 };
const mu0 = 4e-7 * Math.PI;
/** A shorted turn draws real power: under this power factor there is none (common practice, no source). */
const poorFactor = 0.5;
/** Loss that is so much more than it was expected to be is looked at even where the amps are well. */
const lossTooMany = 0.4;
/** Volts at the terminals this much under the supply's with next to no current: own simulation. */
const softFall = 0.03;
/** A meter that reads the mean and one that reads the square differ by less on a sine, their own errors included. */
const sineWithin = 0.03;

/** What is known of a no-load current. */
export interface NoLoadSeen {
  readonly expectedAmps: number;
  /** Loss that was expected at the same volts, in W; null when nobody knows. */
  readonly expectedWatts: number | null;
  /** Volts that the expectation is for, in V. */
  readonly nominalVolts: number;
  readonly amps: number;
  readonly volts: number;
  /** The same volts by a meter that responds to the mean; null when there was none. */
  readonly averageVolts: number | null;
  /** All turns that were meant to carry the current; null when nobody knows. */
  readonly turns: number | null;
  /** How many of them were added since the last measurement; null when none were, or nobody said. */
  readonly addedTurns: number | null;
  readonly watts: number | null;
  /** What was read, and what the session says; null when it was not read. */
  readonly hertz: { readonly read: number; readonly noted: number } | null;
  readonly fedOhms: number | null;
  /** Peak flux density at these volts and turns, in T; null when the iron was not measured. */
  readonly tesla: number | null;
  /** Turns and ohms of the secondary; null when one of them is not known. */
  readonly secondary: { readonly turns: number; readonly ohms: number } | null;
  /** A lamp stands in the feed: it takes volts and the top off the current. */
  readonly hasLamp: boolean;
}

/** Amps that an expectation at nominal volts may come to at the volts that were there. */
function bandAt({ expectedAmps, volts, nominalVolts }: NoLoadSeen): readonly [number, number] {
  const ratio = volts / nominalVolts;
  const [one, other] = [ratio ** slowest, ratio ** power.highest].map((part) => expectedAmps * part);
  return [Math.min(one ?? 0, other ?? 0), Math.max(one ?? 0, other ?? 0)];
}

/**
 * Reads a no-load current against the one that was expected.
 *
 * The expectation is for nominal volts: below and above them it becomes a band, from nearly in proportion to their sixth power.
 * Turns the other way round: with N' turns in place of N, I' = I (N / N')^(k + 1), k from 4 to 6, since the volts per turn
 * go with N / N' and the current with their power, and the ampere-turns are carried by N' turns. A gap: all of the added
 * magnetising current goes into air, g = μ0 N ΔI √2 / B (Ampère's law). A loop: `loopOf`. All are bench estimates.
 */
export function readNoLoad(seen: NoLoadSeen): FaultReading {
  const { amps, expectedAmps, hertz } = seen;
  const [least, most] = bandAt(seen);
  const title = `${n(amps)} A where ${wantedWords(expectedAmps, least, most)} was expected.`;
  const isTooMuch = amps > most * (1 + asExpected);
  const isTooLittle = amps < least * (1 - asExpected);
  const loop = loopSeen(seen);
  const isHot = loop !== null && seen.expectedWatts !== null && loop.watts > lossTooMany * expectedLoss(seen);
  const others = [otherHertz(hertz), softSupply(seen)].filter((one) => one !== null);
  if (isTooMuch || isHot) {
    const lossTitle = `${title.slice(0, -1)}, ${n(loop?.watts ?? 0)} W more than iron and copper account for.`;
    return suspect(isHot ? lossTitle : title, [
      ...others,
      isTooMuch ? opposedTurns(seen) : null,
      isTooMuch ? jointGap(seen, most) : null,
      shortedTurn(seen, loop),
      opposedStrands(seen, loop),
    ]);
  }
  if (isTooLittle) return suspect(title, [...others, ...tooLow(seen)]);
  return others.length > 0 ? suspect(title, others) : allWell(title);
}

/** One figure at the volts that it is for, a band near them, and a bound far below them. */
function wantedWords(expected: number, least: number, most: number): string {
  if (most / least < 1.1) return `${n(expected)} A`;
  return most / least < 5 ? `${n(least)} to ${n(most)} A` : `at most ${n(most)} A`;
}

/** Loss that was expected, carried to the volts that were there by their square; in W. */
const expectedLoss = ({ expectedWatts, volts, nominalVolts }: NoLoadSeen): number =>
  (expectedWatts ?? 0) * (volts / nominalVolts) ** 2;

function loopSeen(seen: NoLoadSeen): Loop | null {
  const { watts, turns, volts, amps, fedOhms, expectedWatts } = seen;
  if (watts === null || turns === null) return null;
  return loopOf({
    volts,
    amps,
    watts,
    turns,
    fedOhms,
    expectedWatts: expectedWatts === null ? null : expectedLoss(seen),
  });
}

function otherHertz(hertz: NoLoadSeen['hertz']): Suspicion | null {
  if (hertz === null || Math.abs(hertz.read - hertz.noted) < 2) return null;
  return {
    code: 'other-hertz',
    cause: `${n(hertz.read)} Hz comes where ${n(hertz.noted)} was noted: the flux goes with volts over hertz.`,
    fits: true,
    decides: 'Hertz at the terminals, and what the source is.',
  };
}

function softSupply({ volts, averageVolts, nominalVolts, amps, hasLamp }: NoLoadSeen): Suspicion | null {
  if (hasLamp) return null;
  const bent = averageVolts === null ? 0 : averageVolts / volts - 1;
  const isBent = Math.abs(bent) > sineWithin;
  if (!isBent) return null;
  const fall =
    volts < (1 - softFall) * nominalVolts ? `, ${n(nominalVolts - volts)} V under the supply at ${n(amps)} A` : '';
  return {
    code: 'soft-supply',
    cause: `A soft supply: the volts are no sine, the mean reads ${n(Math.abs(bent) * 100)} % ${bent > 0 ? 'above' : 'below'} the effective value${fall}.`,
    fits: true,
    decides: 'Volts with the transformer off and on.',
  };
}

const tooLow = ({ hasLamp }: NoLoadSeen): readonly Suspicion[] => [
  ...(hasLamp
    ? []
    : [
        {
          code: 'soft-supply' as const,
          cause: 'A soft supply: a lamp in series takes the top off the current.',
          fits: true,
          decides: 'Volts with the transformer off and on: a soft supply falls.',
        },
      ]),
  {
    code: 'more-turns',
    cause: 'More turns in circuit than were counted, or lower volts than the expectation was for.',
    fits: true,
    decides: 'A test coil: it counts what is in circuit.',
  },
];

function opposedTurns(seen: NoLoadSeen): Suspicion | null {
  const { amps, turns, addedTurns } = seen;
  if (turns === null || addedTurns === null || addedTurns <= 0) return null;
  const left = turns - 2 * addedTurns;
  const turned = `${n(addedTurns)} turns wound the wrong way: they subtract`;
  const decides = 'A low-voltage check: opposed turns read fewer than before.';
  if (left <= 0) {
    return {
      code: 'opposed-turns',
      cause: `${turned}, and next to nothing holds the current back.`,
      fits: true,
      decides,
    };
  }
  const [low, high] = bandAt(seen);
  const at = (k: number, expected: number) => expected * (turns / left) ** (k + 1);
  const told = `${n(at(power.lowest, low))} to ${n(at(power.highest, high))} A`;
  return {
    code: 'opposed-turns',
    cause: `${turned}, ${told}. A low-voltage check reads fewer turns than before.`,
    fits: amps >= at(widest.lowest, low) / slack && amps <= at(widest.highest, high) * slack,
    decides,
  };
}

/** Magnetising part of a current with real power in it, in A. */
const reactive = (amps: number, watts: number, volts: number): number =>
  Math.sqrt(Math.max(0, amps ** 2 - (watts / volts) ** 2));

function jointGap(seen: NoLoadSeen, expected: number): Suspicion | null {
  const { amps, volts, watts, turns, tesla } = seen;
  if (turns === null) return null;
  const loss = seen.expectedWatts === null ? null : expectedLoss(seen);
  const before = loss === null ? expected : reactive(expected, loss, volts);
  const now = watts === null ? amps : reactive(amps, watts, volts);
  const added = loss === null || watts === null ? amps - expected : now - before;
  const gapMm = ((mu0 * turns * Math.max(0, added) * Math.SQRT2) / (tesla ?? usualTesla)) * 1000;
  return {
    code: 'joint-gap',
    cause:
      added > 0
        ? `A joint gap of about ${n(gapMm)} mm: look at the joint, the clamping, laminations left out.`
        : 'No joint gap: the current that was added does not magnetise.',
    fits: gapMm >= gaps.least && gapMm <= gaps.most,
    decides: 'Watts: a gap adds amps and next to no watts.',
  };
}

/** Resistance of one turn of each winding that was measured, in Ω. */
const turnsOhms = ({ fedOhms, turns, secondary }: NoLoadSeen): readonly number[] => [
  ...(fedOhms === null || turns === null ? [] : [fedOhms / turns]),
  ...(secondary === null ? [] : [secondary.ohms / secondary.turns]),
];

function shortedTurn(seen: NoLoadSeen, loop: Loop | null): Suspicion {
  const { amps, volts, watts, turns } = seen;
  const code = 'shorted-turn';
  const decides = 'Two minutes at these volts, power off and proved dead: one spot is warm.';
  if (watts === null) {
    return { code, cause: 'A shorted turn: it would also warm one spot within two minutes.', fits: true, decides };
  }
  const factor = watts / (volts * amps);
  const isPoor = seen.expectedWatts === null || turns === null ? factor < poorFactor : loop === null;
  if (isPoor) {
    return {
      code,
      cause: `No shorted turn: at a power factor of ${n(factor)} hardly any of it is real power.`,
      fits: false,
      decides,
    };
  }
  const asTurn = loop === null ? '' : ` One turn of ${n(loop.turnOhms * 1000)} mΩ would take as much.`;
  const isTurn = loop === null ? null : maybeOneTurn(loop, turnsOhms(seen));
  return {
    code,
    cause: `A shorted turn: power factor ${n(factor)}, real power goes somewhere.${asTurn} It warms one spot within two minutes.`,
    fits: isTurn ?? true,
    decides,
  };
}

function opposedStrands(seen: NoLoadSeen, loop: Loop | null): Suspicion | null {
  const { secondary } = seen;
  const asTurn = secondary === null ? null : strandsAsTurn(secondary.ohms, secondary.turns);
  if (loop === null || !maybeStrands(loop, asTurn, turnsOhms(seen))) return null;
  return {
    code: 'opposed-strands',
    cause: `Two strands or windings against each other, or an output that is shorted: ${n(loop.watts)} W go into it, far more than one turn takes.`,
    fits: true,
    decides: 'Volts at the output: next to none. Part the strands and read each far end.',
  };
}
