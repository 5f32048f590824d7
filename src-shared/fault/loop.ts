/** Where real power at no load goes: what the iron was expected to take, and what is left over. */
export interface PowerSeen {
  readonly volts: number;
  readonly amps: number;
  readonly watts: number;
  /** What the iron was expected to lose at these volts, in W; null when nobody knows. */
  readonly expectedWatts: number | null;
  /** Turns that carry the current. */
  readonly turns: number;
  /** Of the fed winding, in Ω; null when not measured. */
  readonly fedOhms: number | null;
}

/** A loop in the window that takes power, seen as one turn. */
export interface Loop {
  /** What it takes, in W. */
  readonly watts: number;
  /** Resistance that one turn would have to have to take it, in Ω. */
  readonly turnOhms: number;
}

/** Less than this part of the expected loss beyond it, or of volts times amps, is no loop: common practice, no source. */
const partOfLoss = 0.3;
const partOfApparent = 0.05;

/**
 * The loop that takes what is left when the copper's own loss and the iron's expected one are off: one turn has the EMF of
 * a turn, (U − I R cos φ) / N, and P = E² / R. Null where nothing is left over.
 */
export function loopOf({ volts, amps, watts, expectedWatts, turns, fedOhms }: PowerSeen): Loop | null {
  const copper = amps ** 2 * (fedOhms ?? 0);
  const over = watts - copper - (expectedWatts ?? 0);
  const factor = Math.min(1, watts / (volts * amps));
  const turnVolts = (volts - amps * (fedOhms ?? 0) * factor) / turns;
  const isLoop = over > partOfLoss * (expectedWatts ?? 0) && over > partOfApparent * volts * amps && turnVolts > 0;
  return isLoop ? { watts: over, turnOhms: turnVolts ** 2 / over } : null;
}

/** One turn of a winding has this much, and contact at the fault adds to it: common practice, no source. */
const oneTurn = { least: 0.5, most: 8 };

/** Whether a loop may be one shorted turn of the windings that are there; null when none of them was measured. */
export function maybeOneTurn({ turnOhms }: Loop, ofOneTurn: readonly number[]): boolean | null {
  if (ofOneTurn.length === 0) return null;
  return turnOhms >= oneTurn.least * Math.min(...ofOneTurn) && turnOhms <= oneTurn.most * Math.max(...ofOneTurn);
}

/** Leakage and warmth keep a whole winding from taking all that it could: common practice, no source. */
const wholeWinding = 3;

/** What two strands against each other are as one turn: four times the ohms round twice the turns, R / N². */
export const strandsAsTurn = (ohms: number, turns: number): number => ohms / turns ** 2;

/** Whether a loop takes as much as a whole winding would: within a factor where it is known, else far more than a turn. */
export function maybeStrands({ turnOhms }: Loop, asTurn: number | null, ofOneTurn: readonly number[]): boolean {
  if (asTurn !== null) return turnOhms < wholeWinding * asTurn;
  return ofOneTurn.length > 0 && turnOhms < (oneTurn.least / wholeWinding) * Math.min(...ofOneTurn);
}
