import { formatNumber } from '../quantity/format.ts';
import { inSystem, type UnitSystem } from '../quantity/unit.ts';
import type { Turns, WindingFields } from './build.ts';
import type { CoreFields } from './core.ts';
import type { Measured } from './field.ts';
import type { StaleMark } from './plan-stale.ts';

const nothing = 'not known';
type Told = ReadonlyMap<string, string>;

function measuredWords(known: Measured | undefined, unit: string, system: UnitSystem): string {
  if (known === undefined) return nothing;
  const shown = inSystem({ ...known, unit }, system);
  const doubt = shown.u === null || shown.u === 0 ? '' : ` ± ${formatNumber(shown.u, 2)}`;
  return `${formatNumber(shown.value, 5)}${doubt} ${shown.unit}`;
}

const textOf = (value: string | number | boolean | undefined): string =>
  value === undefined ? nothing : value === true ? 'yes' : value === false ? 'no' : String(value);

function turnsWords(turns: Turns): string {
  switch (turns.kind) {
    case 'unknown':
      return nothing;
    case 'counted':
      return formatNumber(turns.turns, 6);
    case 'estimated':
      return `${formatNumber(turns.value, 5)} ± ${formatNumber(turns.u, 2)}`;
  }
}

const toldOfCore = (core: CoreFields, system: UnitSystem): Told =>
  new Map([
    ['shape', core.shape],
    ['from an appliance', textOf(core.fromAppliance)],
    ['mass', measuredWords(core.mass, 'kg', system)],
    ['weighed', textOf(core.massIs?.replace('-', ' '))],
    ['tongue width', measuredWords(core.tongue, 'mm', system)],
    ['stack height', measuredWords(core.stack, 'mm', system)],
    ['window width', measuredWords(core.windowWidth, 'mm', system)],
    ['window height', measuredWords(core.windowHeight, 'mm', system)],
    ['stacking factor', textOf(core.stackingFactor)],
    ['volts it came from', textOf(core.fromVolts)],
    ['hertz it came from', textOf(core.fromHertz)],
  ]);

const toldOfWinding = (winding: WindingFields, system: UnitSystem): Told =>
  new Map([
    ['role', winding.role.replace('-', ' ')],
    ['turns', turnsWords(winding.turns)],
    ['turns added', textOf(winding.turnsAdded)],
    ['metal', winding.metal.replace('-', ' ')],
    ['bare wire', measuredWords(winding.bareDiameter, 'mm', system)],
    ['wire', textOf(winding.wire)],
    ['strands', textOf(winding.strands)],
    ['resistance', measuredWords(winding.ohms, 'Ω', system)],
    [
      'temperature of the resistance',
      winding.ohmsCelsius === undefined
        ? nothing
        : measuredWords({ value: winding.ohmsCelsius, u: null }, '°C', system),
    ],
    ['one end on the core', winding.oneEndOnCore.replace('-', ' ')],
    ['on the plug', textOf(winding.onPlug)],
  ]);

/** What differs: `window width 22 mm, was 24 mm; mass ...`. */
function difference(before: Told, after: Told): string {
  const changed = [...after].flatMap(([name, now]) => {
    const was = before.get(name) ?? nothing;
    return was === now ? [] : [`${name} ${now}, was ${was}`];
  });
  return changed.length === 0 ? 'where its figures come from' : changed.join('; ');
}

const because = (reason: string | null): string => (reason === null ? '' : ` (${reason})`);

/** What each calculation found out. */
const found: Readonly<Record<string, string>> = {
  'test-coil': 'turns of the primary',
  'short-circuit': 'short-circuit test',
  'heat-run': 'heat run',
  excitation: 'no-load sweep',
};

/** A kept result by what it found out, for people. */
export const resultName = (calculation: string): string => found[calculation] ?? calculation;

/** One stale mark as a sentence in the person's units. */
export function staleWords(mark: StaleMark, system: UnitSystem): string {
  switch (mark.kind) {
    case 'core': {
      const changed = difference(toldOfCore(mark.before, system), toldOfCore(mark.after, system));
      return `The core was corrected: ${changed}${because(mark.reason)}.`;
    }
    case 'winding': {
      const changed = difference(toldOfWinding(mark.before, system), toldOfWinding(mark.after, system));
      return `${mark.after.label} was corrected: ${changed}${because(mark.reason)}.`;
    }
    case 'winding-added':
      return `A winding was added to the build: ${mark.after.label}.`;
    case 'result': {
      const what = resultName(mark.calculation);
      return mark.isFirst ? `Measured since: ${what}.` : `Measured again since: ${what}.`;
    }
  }
}
