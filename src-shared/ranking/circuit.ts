import { calculate } from '../calculation/calculate.ts';
import { notKnown, type Aspect } from './aspect.ts';
import type { CoreFacts } from './core-facts.ts';
import type { Demand } from './demand.ts';

/** Part of a breaker that a load of hours may take by the US code; elsewhere the local rule holds. */
const hoursPart = 0.8;

/** What the need and the core's own no-load current take of the circuit. */
export function byCircuit({ noLoadVoltAmperes }: CoreFacts, { need, asked, say }: Demand): Aspect {
  const { circuit } = need;
  if (circuit === undefined) return notKnown('circuit', 'The need names no circuit.');
  const loads = [{ voltAmperes: asked.voltAmperes }, { voltAmperes: noLoadVoltAmperes ?? 0 }];
  const answer = calculate('supply-circuit', {
    volts: circuit.volts,
    breakerAmps: circuit.amps,
    continuous: false,
    loads,
  });
  if (!answer.ok) return notKnown('circuit', answer.error.message);
  const share = answer.results.loadFraction.value;
  const idle = noLoadVoltAmperes === null ? 'no-load current not known' : 'no-load current counted';
  const words = `${say(share * circuit.amps, 'A')} of the ${say(circuit.amps, 'A')} of its circuit, ${idle}`;
  const most = need.use.kind === 'continuous' ? hoursPart : 1;
  if (share <= most) return { kind: 'circuit', grade: 'met', share, words: `${words}.`, gives: null };
  const mostAmps = (need.amps * most) / share;
  return share <= 1
    ? {
        kind: 'circuit',
        grade: 'close',
        share,
        words: `${words}: over 80 % for hours, where the US code stops.`,
        gives: null,
        mostAmps,
      }
    : { kind: 'circuit', grade: 'not-met', share, words: `${words}.`, gives: null, mostAmps };
}
