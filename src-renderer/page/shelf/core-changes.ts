import { inSystem, type UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import type { Measured } from '../../../src-shared/record/field.ts';
import { writtenParts } from '../../../src-shared/quantity/written-parts.ts';

/** One field that a correction changed, both ways in words. */
export interface Change {
  readonly name: string;
  readonly before: string;
  readonly after: string;
}

const nothing = 'not known';

/** A measured value in words: `40.00 ± 0.10 mm`; what nobody measured is not known. */
function measuredWords(known: Measured | undefined, unit: 'mm' | 'kg', system: UnitSystem): string {
  if (known === undefined) return nothing;
  const { value, u, unit: shown } = writtenParts(inSystem({ ...known, unit }, system));
  return u === null ? `${value} ${shown}` : `${value} ± ${u} ${shown}`;
}

function said(fields: CoreFields, system: UnitSystem): ReadonlyMap<string, string> {
  const text = (value: string | number | undefined): string =>
    value === undefined || value === '' ? nothing : String(value);
  return new Map([
    ['Label', fields.label],
    ['Where from', text(fields.origin)],
    ['Shape', fields.shape],
    ['From an appliance', fields.fromAppliance === true ? 'yes' : 'no'],
    ['Mass', measuredWords(fields.mass, 'kg', system)],
    ['Weighed', text(fields.massIs?.replace('-', ' '))],
    ['Tongue width', measuredWords(fields.tongue, 'mm', system)],
    ['Stack height', measuredWords(fields.stack, 'mm', system)],
    ['Window width', measuredWords(fields.windowWidth, 'mm', system)],
    ['Window height', measuredWords(fields.windowHeight, 'mm', system)],
    ['Volts', text(fields.fromVolts)],
    ['Hertz', text(fields.fromHertz)],
    ['Note', text(fields.note)],
  ]);
}

/** What differs between two versions of a core; nothing for the first one. */
export function coreChanges(before: CoreFields | null, after: CoreFields, system: UnitSystem): readonly Change[] {
  if (before === null) return [];
  const [old, now] = [said(before, system), said(after, system)];
  return [...now].flatMap(([name, words]) => {
    const earlier = old.get(name) ?? nothing;
    return earlier === words ? [] : [{ name, before: earlier, after: words }];
  });
}
