import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { inSystem, type UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { BuildFields, WindingFields } from '../../../src-shared/record/build.ts';
import { cautionText } from '../../../src-shared/interlock/cautions.ts';
import { writtenParts } from '../../../src-shared/quantity/written-parts.ts';
import { turnsWords } from '../shelf/core-words.ts';

/** A length in the person's units: `1.25 mm`, `0.0492 in`. */
export function lengthWords(mm: number, system: UnitSystem): string {
  const { value, unit } = inSystem({ value: mm, u: null, unit: 'mm' }, system);
  return `${formatNumber(value, 3)} ${unit}`;
}

const turnsOrNot = (turns: WindingFields['turns']): string => {
  const words = turnsWords(turns);
  return words === null ? 'turns not known' : `${words} turns`;
};

/** The wire of a winding as it was sold, else as it was measured: `2 × 1.4 mm`, `1.25 mm`. */
function wireWords({ wire, strands, bareDiameter }: WindingFields, system: UnitSystem): string {
  const one = wire ?? (bareDiameter === undefined ? 'wire not measured' : lengthWords(bareDiameter.value, system));
  return strands === undefined ? one : `${strands} × ${one}`;
}

/** A winding in the key of a drawing: `primary, 164 turns, 1.25 mm`. */
export function keyWords(fields: WindingFields, system: UnitSystem): string {
  return `${fields.label}, ${turnsOrNot(fields.turns)}, ${wireWords(fields, system)}`;
}

/** What is known of a winding, each as a short phrase. */
export function windingFacts(fields: WindingFields, system: UnitSystem): readonly string[] {
  const role = fields.role === fields.label.toLowerCase() ? [] : [fields.role.replace('-', ' ')];
  const ohms = fields.ohms === undefined ? null : writtenParts({ ...fields.ohms, unit: 'Ω' });
  return [
    ...role,
    turnsOrNot(fields.turns),
    wireWords(fields, system),
    fields.metal === 'not-known' ? 'metal not known' : fields.metal,
    ...(ohms === null ? [] : [`${ohms.value}${ohms.u === null ? '' : ` ± ${ohms.u}`} Ω`]),
    ...(fields.onPlug ? ['on the plug'] : []),
  ];
}

/** What is known of a build besides its windings, each as a short phrase. */
export function buildFacts({ joint, shunts, separation, varnish, curedOn, note }: BuildFields): readonly string[] {
  return [
    joint === 'not-known' ? 'joint not known' : `joint ${joint.replace('-', ' ')}`,
    shunts === 'none' ? 'no shunts' : shunts === 'not-known' ? 'shunts not known' : `shunts ${shunts}`,
    ...(separation === undefined ? [] : [separation]),
    ...(varnish === undefined ? [] : [varnish]),
    ...(curedOn === undefined ? [] : [`cured on ${curedOn}`]),
    ...(note === undefined || note === '' ? [] : [note]),
  ];
}

/** Cautions that belong to a winding: the line that stays, and the whole text behind it. */
export function windingWarnings(
  fields: WindingFields,
): readonly { readonly id: string; readonly title: string; readonly text: string }[] {
  return [
    ...(fields.turns.kind === 'unknown'
      ? [
          {
            id: 'c-unknown',
            title: 'May stand at thousands of volts with power on',
            text: cautionText('c-unknown', {}),
          },
        ]
      : []),
    ...(fields.oneEndOnCore === 'yes'
      ? [{ id: 'c-core', title: 'One end on the core', text: cautionText('c-core', {}) }]
      : []),
  ];
}
