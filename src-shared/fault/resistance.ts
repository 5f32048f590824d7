import { calculate } from '../calculation/calculate.ts';
import { conductors, type Metal } from '../calculation/conductor.ts';
import { allWell, n, n3, suspect, type FaultReading, type Suspicion } from './fault-reading.ts';

/** A measured value; `u` null when nobody knows it. */
interface Seen {
  readonly value: number;
  readonly u: number | null;
}

/** What is known of a winding's resistance. */
export interface ResistanceSeen {
  /** By two wires, the leads taken off, and by four; null where it was not measured so. In Ω. */
  readonly twoWire: Seen | null;
  readonly fourWire: Seen | null;
  readonly celsius: number;
  /** What the record says it is made of; null: not known. */
  readonly metal: Metal | null;
  readonly turns: Seen | null;
  readonly bareDiameterMm: Seen | null;
  readonly meanTurnMm: Seen | null;
}

/** More than this much of the four-wire reading, and of the doubt of both, is a joint: common practice, no source. */
const jointPart = 0.03;
const timesDoubt = 3;
/** Size, turns and mean turn are never better known: within this of the metal's own it is that metal. */
const metalPart = 0.1;

/** Reads a winding's resistance against its other wires, and against its metal. Null where neither can be judged. */
export function readResistance(seen: ResistanceSeen): FaultReading | null {
  const joint = jointOf(seen);
  if (joint !== null) return joint;
  return metalReading(seen) ?? (bothWays(seen) === null ? null : allWell(agreeTitle(seen)));
}

const agreeTitle = ({ twoWire, fourWire }: ResistanceSeen): string =>
  `${n3(twoWire?.value ?? 0)} Ω by two wires, ${n3(fourWire?.value ?? 0)} Ω by four: no joint between.`;

const bothWays = ({ twoWire, fourWire }: ResistanceSeen) =>
  twoWire === null || fourWire === null ? null : { twoWire, fourWire };

function jointOf(seen: ResistanceSeen): FaultReading | null {
  const both = bothWays(seen);
  if (both === null) return null;
  const { twoWire, fourWire } = both;
  const over = twoWire.value - fourWire.value;
  const doubt = Math.hypot(twoWire.u ?? 0, fourWire.u ?? 0);
  if (over <= jointPart * fourWire.value || over <= timesDoubt * doubt) return null;
  return suspect(`${n3(twoWire.value)} Ω by two wires where four read ${n3(fourWire.value)} Ω.`, [
    {
      code: 'feed-joint',
      cause: `A bad joint in the leads: ${n(over)} Ω between the clips and the winding, or leads that were not taken off.`,
      fits: true,
      decides: 'Millivolts across each joint with the test current in it.',
    },
  ]);
}

function metalReading(seen: ResistanceSeen): FaultReading | null {
  const { celsius, metal, turns, bareDiameterMm, meanTurnMm } = seen;
  const ohms = seen.fourWire ?? seen.twoWire;
  if (ohms === null || turns === null || bareDiameterMm === null || meanTurnMm === null) return null;
  const answer = calculate('winding-metal', { ohms, celsius, turns, bareDiameterMm, meanTurnMm });
  if (!answer.ok) return null;
  const { resistivity, metal: found } = answer.results;
  const rho = `${n3(resistivity.value)} Ω mm²/m at 20 °C by resistance, turns and size`;
  if (metal === null) {
    return allWell(found === 'unclear' ? `${rho}: neither copper nor aluminium clearly.` : `${rho}: ${found}.`);
  }
  const own = conductors[metal].resistivity20;
  const [low, high] = resistivity.interval95 ?? [resistivity.value, resistivity.value];
  const title = `${rho} where ${metal} has ${n3(own)}.`;
  if (low <= own * (1 + metalPart) && high >= own * (1 - metalPart)) return allWell(title);
  return suspect(title, [otherMetal(metal, [low, high]), tooManyOhms(seen, resistivity.value > own), wrongFigures]);
}

function otherMetal(metal: Metal, [low, high]: readonly [number, number]): Suspicion {
  const other = metal === 'copper' ? 'aluminium' : 'copper';
  const own = conductors[other].resistivity20;
  const fits = low <= own * (1 + metalPart) && high >= own * (1 - metalPart);
  return {
    code: 'other-metal',
    cause: `${other === 'copper' ? 'Copper' : 'Aluminium'}, not ${metal}: it has ${n3(own)}.`,
    fits,
    decides: 'Scrape an end: copper is red, aluminium white and soft.',
  };
}

function tooManyOhms({ fourWire }: ResistanceSeen, isMore: boolean): Suspicion | null {
  if (!isMore || fourWire !== null) return null;
  return {
    code: 'feed-joint',
    cause: 'A bad joint in the leads: two wires read it with the winding.',
    fits: true,
    decides: 'Four wires, the millivolt clips on the metal of the winding itself.',
  };
}

const wrongFigures: Suspicion = {
  code: 'wrong-figures',
  cause: 'Turns, diameter over the film, or strands in hand are noted wrong.',
  fits: true,
  decides: 'The diameter again with the film off, and the strands counted.',
};
