import * as v from 'valibot';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { WindingFields } from '../../../src-shared/record/build.ts';
import type { PlannedOutput } from '../../../src-shared/record/planned-output.ts';
import { rewound } from '../../../src-shared/record/rewound.ts';
import { boxText, readMeasured, readQuantity } from '../../part/read-quantity.ts';
import { diameterOfGauge, windingAsked } from '../core/winding-form.svelte.ts';

/** What a row of the form comes to: a winding, nothing, or a refusal at each box. */
export type RowRead =
  | { readonly kind: 'winding'; readonly fields: WindingFields }
  | { readonly kind: 'none' }
  | { readonly kind: 'refused'; readonly refusals: Readonly<Record<string, string>> };

const refused = (refusals: Readonly<Record<string, string>>): RowRead => ({ kind: 'refused', refusals });
const halves = 'Whole or half turns, such as 12 or −4: a turn is one pass through the window.';

/** A winding of the build before: whether it is still there, and how many turns it got or lost. */
export class KeptRow {
  isKept = $state(true);
  /** The person's own text. */
  added = $state('');
  readonly windingId: number;
  readonly fields: WindingFields;
  /** Turns that the plan adds to it; null where it says nothing of this winding. */
  readonly planned: number | null;

  /** @param counted - turns that the tally of the plan stands at; null where nobody counted */
  constructor(windingId: number, fields: WindingFields, planned: number | null, counted: number | null) {
    this.windingId = windingId;
    this.fields = fields;
    this.planned = planned;
    const begins = counted ?? planned;
    if (begins !== null && begins !== 0) this.added = String(begins);
  }

  /** Turns as typed; null while they cannot be read. */
  get turns(): number | null {
    const read = parseNumber(this.added.trim() === '' ? '0' : this.added);
    return read.ok && Number.isInteger(2 * read.value) ? read.value : null;
  }

  read(): RowRead {
    if (!this.isKept) return { kind: 'none' };
    const { turns } = this;
    const key = `added-${this.windingId}`;
    if (turns === null) return refused({ [key]: halves });
    const after = rewound(this.fields, turns);
    if (after === null) return refused({ [key]: 'More turns are taken off than there are.' });
    // The ends of a winding that was threaded anew are not those that were looked at.
    return { kind: 'winding', fields: after };
  }
}

/** Wire in words as it is sold, without the strands. */
const soldAs = ({ wire }: PlannedOutput): string =>
  wire.kind === 'strip' ? `${wire.name} strip` : wire.kind === 'cable' ? `${wire.name} cable` : wire.name;

const text = v.string();
/** What a person types of a winding that was wound on. */
export const rowTexts = {
  label: text,
  role: WindingFields.entries.role,
  turns: text,
  wire: text,
  strands: text,
  bareDiameter: v.strictObject({ text, doubt: text }),
  metal: WindingFields.entries.metal,
};
type RowTexts = { [Key in keyof typeof rowTexts]: v.InferOutput<(typeof rowTexts)[Key]> };

let made = 0;

/** A winding that was wound on, as the person types it; beside what the plan says, where one does. */
export class NewRow {
  readonly id = ++made;
  label = $state('');
  role = $state<WindingFields['role']>('secondary');
  turns = $state('');
  wire = $state('');
  strands = $state('1');
  bareDiameter = $state({ text: '', doubt: '' });
  metal = $state<WindingFields['metal']>('copper');
  readonly system: UnitSystem;
  readonly planned: PlannedOutput | null;

  /** @param counted - turns that the tally of the plan stands at; null where nobody counted */
  constructor(system: UnitSystem, planned: PlannedOutput | null, counted: number | null) {
    this.system = system;
    this.planned = planned;
    if (planned === null) return;
    this.label = planned.label;
    this.turns = String(counted ?? planned.turns);
    this.wire = soldAs(planned);
    this.strands = String(planned.wire.strands);
    if (planned.wire.kind === 'round') this.bareDiameter.text = boxText(planned.wire.bareDiameterMm, 'mm', system);
  }

  get texts(): RowTexts {
    const { label, role, turns, wire, strands, metal } = this;
    return { label, role, turns, wire, strands, metal, bareDiameter: { ...this.bareDiameter } };
  }

  restore(texts: RowTexts): void {
    Object.assign(this, { ...texts, bareDiameter: { ...texts.bareDiameter } });
  }

  /** What was wound otherwise than planned, each as `44 turns were planned`; empty without a plan, or as planned. */
  get differences(): readonly string[] {
    const { planned } = this;
    if (planned === null) return [];
    const turns = readQuantity(this.turns, windingAsked.turns, this.system);
    const strands = parseNumber(this.strands);
    return [
      ...(turns.kind === 'value' && turns.value === planned.turns ? [] : [`${planned.turns} turns were planned`]),
      ...(this.wire.trim() === soldAs(planned) ? [] : [`${soldAs(planned)} was planned`]),
      ...(strands.ok && strands.value === planned.wire.strands
        ? []
        : [`${planned.wire.strands} in hand ${planned.wire.strands === 1 ? 'was' : 'were'} planned`]),
      ...(this.label.trim() === planned.label
        ? []
        : [`“${planned.label}” in the plan: its volts are judged by that name`]),
    ];
  }

  read(): RowRead {
    const refusals: Record<string, string> = {};
    const at = (box: string) => `${box}-${this.id}`;
    if (this.label.trim() === '') refusals[at('label')] = 'Give it a name, such as “24 V output”.';
    const turns = readQuantity(this.turns, windingAsked.turns, this.system);
    if (turns.kind === 'absent') refusals[at('turns')] = 'Type the turns as they were counted.';
    if (turns.kind === 'refused') refusals[at('turns')] = turns.message;
    if (turns.kind === 'value' && !Number.isInteger(2 * turns.value)) refusals[at('turns')] = halves;
    const strands = parseNumber(this.strands);
    const isCount = strands.ok && Number.isInteger(strands.value) && strands.value >= 1 && strands.value <= 100;
    if (!isCount) refusals[at('strands')] = 'Strands in hand: a whole number from 1 to 100.';
    const gauge = diameterOfGauge(this.bareDiameter.text);
    const { text, doubt } = this.bareDiameter;
    const diameter =
      gauge === null
        ? readMeasured(text, doubt, windingAsked.bareDiameter, this.system)
        : { kind: 'value' as const, value: { value: gauge, u: null } };
    if (diameter.kind === 'refused') refusals[at('diameter')] = diameter.message;
    if (this.wire.trim().length > 60) refusals[at('wire')] = 'At most 60 characters.';
    if (Object.keys(refusals).length > 0 || turns.kind !== 'value' || !strands.ok) return refused(refusals);
    const wire = this.wire.trim();
    return {
      kind: 'winding',
      fields: {
        label: this.label.trim(),
        role: this.role,
        turns: { kind: 'counted', turns: turns.value },
        metal: this.metal,
        ...(diameter.kind === 'value' ? { bareDiameter: diameter.value } : {}),
        ...(wire === '' ? {} : { wire }),
        ...(strands.value === 1 ? {} : { strands: strands.value }),
        oneEndOnCore: 'not-looked',
        onPlug: false,
      },
    };
  }
}
