import { calculate } from '../calculation/calculate.ts';
import { formatNumber } from '../quantity/format.ts';
import type { KeptPair } from '../record/run.ts';
import { testCoilInput } from '../procedure/kept-value.ts';
import { allWell, n, suspect, type FaultReading, type Suspicion } from './fault-reading.ts';

/** A kept pair as the reader sees it. */
type Pair = Pick<KeptPair, 'coilTurns' | 'swapped' | 'order' | 'primary' | 'coil'>;

/**
 * Two readings of the same thing that are apart by more than this are not the same; nor are they where they differ by more
 * than both can be off, each by √3 of its own flat doubt. Common practice, no source.
 */
const driftPart = 0.006;
const timesOwn = 2.5;
/** A slip is whole or half turns: within this of one it may be it. */
const slipWithin = 0.2;

const n4 = (value: number): string => formatNumber(value, 4);

/** Turns of the primary by one pair. */
const turnsBy = ({ coilTurns, primary, coil }: Pair): number => (coilTurns * primary.value) / coil.value;

/** How far one pair may be off by its own parts, as a share; what meters share cancels between like pairs. */
const ownPart = ({ primary, coil }: Pair): number =>
  Math.hypot((primary.u ?? 0) / primary.value, (coil.u ?? 0) / coil.value);

/** The same with what its meters share on their ranges, which pairs on other ranges do not. */
const wholePart = (pair: Pair): number => {
  const shared = ({ value, shared: common }: KeptPair['coil']) => (common?.u ?? 0) / value;
  return Math.hypot(ownPart(pair), shared(pair.primary), shared(pair.coil));
};

/**
 * Reads pairs of volts against each other: the same coil read twice alike must agree within the meters' own scatter, the
 * meters must stay as far apart from coil to coil, and unlike coils must find the same turns. Null while there is only one pair.
 */
export function readCoils(pairs: readonly Pair[], hertz: number): FaultReading | null {
  const drift = driftOf(pairs) ?? driftByExchange(pairs);
  if (drift !== null) return drift;
  return new Set(pairs.map(({ coilTurns }) => coilTurns)).size < 2 ? readAgain(pairs) : readUnlike(pairs, hertz);
}

/** Pairs that were read alike: same coil, same meters at the same ends, same order. */
const likePairs = (pairs: readonly Pair[]): readonly (readonly Pair[])[] =>
  [...Map.groupBy(pairs, ({ coilTurns, swapped, order }) => `${coilTurns} ${swapped} ${order}`).values()].filter(
    ({ length }) => length > 1,
  );

function readAgain(pairs: readonly Pair[]): FaultReading | null {
  return likePairs(pairs).length === 0 ? null : allWell('The same coil, read again, finds the same turns.');
}

function driftOf(pairs: readonly Pair[]): FaultReading | null {
  for (const alike of likePairs(pairs)) {
    const [first, last] = [alike[0], alike.at(-1)];
    if (first === undefined || last === undefined) continue;
    const apart = turnsBy(last) / turnsBy(first) - 1;
    const own = Math.hypot(ownPart(first), ownPart(last));
    if (Math.abs(apart) <= Math.max(driftPart, timesOwn * own)) continue;
    return suspect(
      `${n4(turnsBy(first))} turns by the ${first.coilTurns}-turn coil, and ${n4(turnsBy(last))} by the same read again.`,
      [drifting(apart)],
    );
  }
  return null;
}

const drifting = (apart: number): Suspicion => ({
  code: 'drifting-meter',
  cause: `A meter that drifts: its ratio to the other moved by ${n(Math.abs(apart) * 100)} %. A flat battery does it.`,
  fits: true,
  decides: 'Both meters on the same two points; and each against a known source.',
});

/** How far apart the two meters read by one coil, and the doubt of that. */
interface Apart {
  readonly coilTurns: number;
  /** Logarithm of what one reads over the other. */
  readonly log: number;
  readonly u: number;
}

/** A pair and its like with the meters exchanged: the turns drop out of their ratio, however they were counted. */
function metersApart(pairs: readonly Pair[]): readonly Apart[] {
  return [...Map.groupBy(pairs, ({ coilTurns }) => coilTurns)].flatMap(([coilTurns, ofCoil]) => {
    const [plain, exchanged] = [ofCoil.find(({ swapped }) => !swapped), ofCoil.find(({ swapped }) => swapped)];
    if (plain === undefined || exchanged === undefined) return [];
    // Meters of which nobody knows how far they may be off can be as far apart as they like from range to range.
    if ([plain, exchanged].some(({ primary, coil }) => primary.u === null || coil.u === null)) return [];
    const log = Math.log(turnsBy(plain) / turnsBy(exchanged)) / 2;
    return [{ coilTurns, log, u: Math.hypot(wholePart(plain), wholePart(exchanged)) / 2 }];
  });
}

/**
 * A slip in counting a coil leaves the meters as far apart as another coil does; a drift does not. Null where fewer than two
 * coils were read with the meters exchanged as well, and where they agree within all that both can be off.
 */
function driftByExchange(pairs: readonly Pair[]): FaultReading | null {
  const apart = metersApart(pairs);
  const [first, last] = [apart[0], apart.at(-1)];
  if (first === undefined || last === undefined) return null;
  const moved = last.log - first.log;
  if (Math.abs(moved) <= Math.max(driftPart, timesOwn * Math.hypot(first.u, last.u))) return null;
  const part = ({ coilTurns, log }: Apart) => `${n(Math.abs(log) * 100)} % at the ${coilTurns}-turn coil`;
  return suspect(`Exchanged, the two meters are apart by ${part(first)}, and by ${part(last)}.`, [drifting(moved)]);
}

function readUnlike(pairs: readonly Pair[], hertz: number): FaultReading | null {
  const kept = pairs.map((pair, index) => ({
    pair: { ...pair, eventId: index + 1, driftVolts: null, withdrawn: null },
    facts: {},
  }));
  const answer = calculate('test-coil', testCoilInput(kept, hertz));
  if (!answer.ok) return null;
  const { miscountCandidates, primaryTurns } = answer.results;
  const coils = [...new Set(pairs.map(({ coilTurns }) => coilTurns))];
  const found = coils.flatMap((coilTurns) => {
    const slips = miscountCandidates.filter((one) => one.coilTurns === coilTurns);
    const whole = slips.toSorted((one, other) => other.readings.length - one.readings.length)[0];
    return whole === undefined ? [] : (slipOf(coilTurns, whole.turnsThatFit) ?? []);
  });
  const byCoil = coils.map((coilTurns) => {
    const ofCoil = pairs.filter((pair) => pair.coilTurns === coilTurns).map(turnsBy);
    return `${n4(ofCoil.reduce((sum, one) => sum + one, 0) / ofCoil.length)} by ${coilTurns}`;
  });
  const title = `Turns of the primary by each coil: ${byCoil.join(', ')}.`;
  if (miscountCandidates.length === 0) return allWell(`All coils find ${n4(primaryTurns.value)} turns.`);
  return suspect(title, found.length > 0 ? found : [neither]);
}

function slipOf(coilTurns: number, turnsThatFit: number): Suspicion | null {
  const off = turnsThatFit - coilTurns;
  const slip = Math.round(2 * off) / 2;
  if (slip === 0 || Math.abs(off - slip) > slipWithin) return null;
  const isWhole = Number.isInteger(slip);
  const fewer = slip < 0 ? 'too few' : 'too many';
  const have = `The coil of ${coilTurns} has ${n(Math.abs(slip))} ${fewer}: its volts fit ${n4(turnsThatFit)}`;
  return {
    code: isWhole ? 'miscounted-coil' : 'half-turn',
    cause: isWhole ? `${have}. Count it again at one window.` : `${have}. A lead leaves round the outer limb.`,
    fits: true,
    decides: 'A third coil of another number of turns, both leads out on the same side.',
  };
}

const neither: Suspicion = {
  code: 'wrong-figures',
  cause: 'No whole or half turn of one coil explains it: a loose clip, another range, a coil beyond shunts.',
  fits: true,
  decides: 'Each coil again, with the meters exchanged.',
};
