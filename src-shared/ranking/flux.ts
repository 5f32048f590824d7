import { calculate } from '../calculation/calculate.ts';
import { ceilingTesla, longRunTesla, saturationTesla } from '../calculation/flux-density.ts';
import { notKnown, type Aspect } from './aspect.ts';
import type { CoreFacts } from './core-facts.ts';
import { isForMinutes, type Demand } from './demand.ts';

/** The line may stray this far from what a core was made for without a word. */
const likeMade = 1.05;
/** Flux over what it was made for that nobody should expect of a core that is worked near saturation. */
const tooFar = 1.3;

/** Without the turns: by the line it was made for. */
function byOrigin({ fields }: CoreFacts, { line, say }: Demand): Aspect {
  const { fromVolts, fromHertz } = fields;
  if (fromVolts === undefined || fromHertz === undefined) return notKnown('flux', 'Primary turns not known.');
  const times = line.volts / line.hertz / (fromVolts / fromHertz);
  const from = `made for ${say(fromVolts, 'V')} ${fromHertz} Hz`;
  if (times <= likeMade) return notKnown('flux', `Primary turns not known; ${from}.`);
  const words = `On ${say(line.volts, 'V')} ${line.hertz} Hz ${say(times, '', 2)} times the flux that it was ${from}.`;
  const gives = `a primary with ${say(times, '', 2)} times its turns`;
  return { kind: 'flux', grade: times <= tooFar ? 'close' : 'not-met', share: times, words, gives };
}

/** Peak flux on the line with the turns that are on it, against the ceilings for unknown steel. */
export function byFlux(facts: CoreFacts, demand: Demand): Aspect {
  const { fields, turns } = facts;
  if (turns === null) return byOrigin(facts, demand);
  if (fields.tongue === undefined || fields.stack === undefined) return notKnown('flux', 'Iron not measured.');
  const { line, need, say } = demand;
  const answer = calculate('flux-density', {
    volts: line.volts,
    hertz: line.hertz,
    turns,
    tongueMm: fields.tongue,
    stackMm: fields.stack,
    ...(fields.stackingFactor === undefined ? {} : { stackingFactor: fields.stackingFactor }),
    targetTesla: longRunTesla,
  });
  if (!answer.ok) return notKnown('flux', answer.error.message);
  const tesla = answer.results.peakFluxDensity.value;
  const most = isForMinutes(need) ? ceilingTesla : longRunTesla;
  const share = tesla / most;
  const at = `${say(tesla, 'T')} at ${say(line.volts, 'V')} ${line.hertz} Hz with ${say(turns.value, '', 4)} turns`;
  if (share <= 1) return { kind: 'flux', grade: 'met', share, words: `${at}.`, gives: null };
  const more = Math.max(1, Math.ceil((answer.results.turnsForTarget?.value ?? turns.value) - turns.value));
  if (tesla <= saturationTesla) {
    const gives = `${more} more primary turns bring it to ${say(longRunTesla, 'T')}`;
    return { kind: 'flux', grade: 'close', share, words: `${at}, over ${say(most, 'T')}: ${gives}.`, gives };
  }
  const gives = `a new primary: ${Math.ceil(turns.value + more)} turns for ${say(longRunTesla, 'T')}`;
  return { kind: 'flux', grade: 'not-met', share, words: `${at}: beyond saturation.`, gives };
}
