import { notKnown, type Aspect } from './aspect.ts';
import type { CoreFacts } from './core-facts.ts';
import { peakPart, type Demand } from './demand.ts';

/** Surface of a core whose insulation nobody knows, in °C: where to be warned, and where to stop. Common practice. */
const [warm, hot] = [75, 90];
const usualRoom = 25;

/** The heat of the iron alone, by a heat run at no load: whether any is left for the load. */
export function byHeat({ heat }: CoreFacts, { need, say }: Demand): Aspect {
  if (heat === null) return notKnown('heat', 'No heat run.');
  const room = need.ambientCelsius ?? usualRoom;
  const rise = heat.rise * peakPart(need, heat.seconds);
  const celsius = room + rise;
  const share = rise / Math.max(1, warm - room);
  const words = `The iron alone rises ${say(rise, 'K')}, to ${say(celsius, '°C')} in a room of ${say(room, '°C')}`;
  if (celsius <= warm) {
    return { kind: 'heat', grade: 'met', share, words: `${words}; ${say(warm - celsius, 'K')} are left.`, gives: null };
  }
  const gives = 'more primary turns, or a shorter time on';
  return celsius <= hot
    ? { kind: 'heat', grade: 'close', share, words: `${words}: over ${say(warm, '°C')} with no load at all.`, gives }
    : { kind: 'heat', grade: 'not-met', share, words: `${words}: over ${say(hot, '°C')} with no load at all.`, gives };
}
