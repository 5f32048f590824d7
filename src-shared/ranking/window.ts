import { calculate } from '../calculation/calculate.ts';
import { notKnown, type Aspect } from './aspect.ts';
import type { CoreFacts } from './core-facts.ts';
import { densityFor, type Demand } from './demand.ts';
import { dimensionsOf } from './power.ts';

/**
 * Copper alone over the window that hands get in, from and to: McLyman, from memory; less in a ring, whose hole has to
 * pass the shuttle: common practice, no source.
 */
const handFill = { box: [0.3, 0.4], ring: [0.2, 0.3] } as const;

/** Turns that a drop under load asks for besides: about a twentieth more. Common practice, no source. */
const forTheDrop = 1.05;

/** The copper of the need beside the primary that is there, against what hands get into the window. */
export function byWindow(facts: CoreFacts, demand: Demand): Aspect {
  const { fields, turns, primaryWireMm, heat } = facts;
  const { asked, line, need, say } = demand;
  const dimensions = dimensionsOf(fields);
  const areas = dimensions === null ? null : calculate('core-rating', dimensions);
  const window = areas?.ok === true ? areas.results.windowArea?.value : undefined;
  if (window === undefined) return notKnown('window', 'Window not measured.');
  if (turns === null) return notKnown('window', 'Primary turns not known: the turns of the need cannot be told.');
  const density = densityFor(need, heat?.seconds ?? null);
  const secondaryTurns = (asked.volts * asked.halves * turns.value * forTheDrop) / line.volts;
  const copper = (secondaryTurns * asked.amps) / density;
  const primary = primaryWireMm === null ? copper : turns.value * (Math.PI / 4) * primaryWireMm ** 2;
  const fill = (copper + primary) / window;
  const [from, to] = fields.shape === 'toroid' ? handFill.ring : handFill.box;
  const share = fill / to;
  const beside =
    primaryWireMm === null ? 'as much again for the primary' : `${say(primary, 'mm²', 3)} of primary beside it`;
  const words = `${say(copper, 'mm²')} of copper, ${beside}: ${say(100 * fill, '', 2)} % of the window`;
  if (fill <= from) return { kind: 'window', grade: 'met', share, words: `${words}.`, gives: null };
  if (fill <= to) {
    return { kind: 'window', grade: 'close', share, words: `${words}: only just, by hand.`, gives: null };
  }
  const room = primaryWireMm === null ? (to * window) / 2 : to * window - primary;
  const refused = { kind: 'window', grade: 'not-met', share, words: `${words}; hands get in ${100 * to} %.` } as const;
  return room > 0
    ? { ...refused, gives: null, mostAmps: (need.amps * room) / copper }
    : { ...refused, gives: 'a thinner primary: this one alone is more than hands get in' };
}
