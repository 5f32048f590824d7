import { calculate } from '../calculation/calculate.ts';
import { minutesDensity } from '../calculation/secondary/choice.ts';
import { ceilingTesla, longRunTesla } from '../calculation/flux-density.ts';
import type { CoreFields } from '../record/core.ts';
import { gradeOf, notKnown, type Aspect } from './aspect.ts';
import type { CoreFacts } from './core-facts.ts';
import { densityFor, isForMinutes, type Demand } from './demand.ts';

/** A rule of thumb says no closer than this, either way: our own figure. */
const thumb = 0.15;

/** By the mass: for minutes it decides, for hours it only rules out. */
export function byMass({ fields }: CoreFacts, demand: Demand): Aspect {
  if (fields.fromAppliance !== true) return notKnown('mass', 'No rule by mass for its kind.');
  if (fields.mass === undefined) return notKnown('mass', 'Not weighed.');
  if (fields.massIs === 'stripped') return notKnown('mass', 'Weighed stripped: the rule counts the windings in.');
  const answer = calculate('core-rating', { massKg: fields.mass, kind: 'welded-appliance' });
  const watts = answer.ok ? answer.results.shortTermPower?.value : undefined;
  if (watts === undefined) return notKnown('mass', 'No rule for this mass.');
  const { asked, need, say } = demand;
  const share = asked.voltAmperes / watts;
  const of = `${say(asked.voltAmperes, 'VA')} of about ${say(watts, 'W', 2)}`;
  if (share > 1 + thumb) {
    return {
      kind: 'mass',
      grade: 'not-met',
      share,
      words: `${of}, even for minutes.`,
      gives: null,
      mostAmps: need.amps / share,
    };
  }
  const grade = gradeOf(share, 1 - thumb, 1 + thumb);
  if (isForMinutes(need)) return { kind: 'mass', grade, share, words: `${of}, for minutes.`, gives: null };
  return { ...notKnown('mass', `${of}, for minutes, not hours: of hours it says nothing.`), share };
}

/** What `core-rating` wants to know of a core's iron and window; null where it was not measured. */
export function dimensionsOf(fields: CoreFields) {
  const { tongue, stack, windowWidth, windowHeight, stackingFactor, shape } = fields;
  if (tongue === undefined || stack === undefined || windowWidth === undefined) return null;
  // The hole of a ring as a square of the same area.
  const side = (windowWidth.value * Math.sqrt(Math.PI)) / 2;
  const window =
    shape === 'toroid'
      ? { windowWidthMm: { ...windowWidth, value: side }, windowHeightMm: side }
      : windowHeight === undefined
        ? null
        : { windowWidthMm: windowWidth, windowHeightMm: windowHeight };
  if (window === null) return null;
  return {
    tongueMm: tongue,
    stackMm: stack,
    ...window,
    ...(stackingFactor === undefined ? {} : { stackingFactor }),
  };
}

/** By iron and window: at the current density that the use allows, half of the copper in each winding. */
export function byIronAndWindow({ fields, heat }: CoreFacts, demand: Demand): Aspect {
  const kind = 'iron-and-window';
  const dimensions = dimensionsOf(fields);
  if (dimensions === null) return notKnown(kind, 'Iron and window not measured.');
  const { need, asked, line, say } = demand;
  const powerAt = (currentDensity: number, peakTesla: number) => {
    const answer = calculate('core-rating', { ...dimensions, hertz: line.hertz, currentDensity, peakTesla });
    return answer.ok ? (answer.results.areaProductPower ?? null) : null;
  };
  const density = densityFor(need, heat?.seconds ?? null);
  const power = powerAt(density, isForMinutes(need) ? ceilingTesla : longRunTesla);
  const most = powerAt(minutesDensity, ceilingTesla);
  if (power === null || most === null) return notKnown(kind, 'No figure for these dimensions.');
  const share = asked.voltAmperes / power.value;
  const [low, high] = power.interval95 ?? [power.value * (1 - thumb), power.value * (1 + thumb)];
  const of = `${say(asked.voltAmperes, 'VA')} of about ${say(power.value, 'VA', 2)}`;
  const words = `${of} at ${say(density, 'A/mm²', 2)}`;
  const mostAmps = need.amps / share;
  if (asked.voltAmperes <= low) return { kind, grade: 'met', share, words: `${words}.`, gives: null };
  if (asked.voltAmperes <= high) {
    return { kind, grade: 'close', share, words: `${words}: within the doubt of that figure.`, gives: null };
  }
  if (asked.voltAmperes <= most.value) {
    const gives = `for minutes it is good for about ${say(most.value, 'VA', 2)}`;
    return { kind, grade: 'minutes', share, words: `${words}: for minutes, not as it is to be used.`, gives, mostAmps };
  }
  return { kind, grade: 'not-met', share, words: `${words}.`, gives: null, mostAmps };
}
