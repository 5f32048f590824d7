import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { PlanFields } from '../../../src-shared/record/plan.ts';
import { Boxes, type BoxesRead } from './boxes.svelte.ts';
import { OutputForm, textIn } from './output-form.svelte.ts';
import { planAsked, planKeys, type PlanKey, type PlanNumbers } from './plan-asked.ts';

const everySize = ['metric', 'us', 'both', 'stock'] as const;
export type WireSizes = (typeof everySize)[number];
/** The form as one thing: what undo, a reload and a kept version bring back. */
export type PlanSnapshot = PlanFields['asked'];

const outputsAtMost = 6;
const flags = ['round', 'cable', 'strip', 'threeHours'] as const;

/** A plan as it stands in the form: the person's own texts. Belongs to one build. */
export class PlanForm {
  system: UnitSystem;
  readonly #boxes = new Boxes(planAsked, planKeys, empty());
  hertz = $state<50 | 60>(50);
  sizes = $state<WireSizes>('metric');
  /** The person's own wire, one a line. */
  stock = $state('');
  round = $state(true);
  cable = $state(true);
  strip = $state(false);
  mostStrands = $state(8);
  /** The load stays on for three hours or more. */
  threeHours = $state(false);
  opening = $state<'closed' | 'opened'>('closed');
  title = $state('');
  needId = $state<number | null>(null);
  /** The plan of the record that the next kept version belongs to; null: a new one. */
  planId = $state<number | null>(null);
  outputs = $state<OutputForm[]>([new OutputForm('a', 'Output 1')]);
  /** Windings of the build that come off before this is wound, by their number. */
  off = $state<number[]>([]);
  /** Which output the page shows. */
  at = $state(0);

  constructor(system: UnitSystem, start: PlanNumbers, hertz: 50 | 60) {
    this.system = system;
    this.hertz = hertz;
    this.sizes = system;
    this.put(start);
  }

  /** Puts figures into boxes, in the units of the form. */
  put(numbers: PlanNumbers): void {
    this.#boxes.put(numbers, this.system);
  }

  /** Puts a room into its boxes; what is underneath is left empty where nobody knows it. */
  putRoom(room: Pick<PlanNumbers, 'inner' | 'windowWidth' | 'windowHeight'>): void {
    this.put(room);
    if (room.inner === undefined) this.texts.inner = '';
  }

  /** The person's own texts, by box. */
  get texts(): Record<PlanKey, string> {
    return this.#boxes.texts;
  }

  /** The numbers that can be read, and what is wrong with the others; an empty box is neither. */
  get read(): BoxesRead<PlanKey> {
    return this.#boxes.read(this.system);
  }

  get output(): OutputForm | undefined {
    return this.outputs[this.at] ?? this.outputs[0];
  }

  get canAdd(): boolean {
    return this.outputs.length < outputsAtMost;
  }

  /** A further output, on top of the others, shown at once. */
  addOutput(label = `Output ${this.outputs.length + 1}`): OutputForm {
    const used = new Set(this.outputs.map(({ key }) => key));
    const key = [...'abcdefghijklmnopqrstuvwxyz'].find((letter) => !used.has(letter)) ?? 'z';
    const output = new OutputForm(key, label);
    this.outputs.push(output);
    this.at = this.outputs.length - 1;
    return output;
  }

  removeOutput(at: number): void {
    if (this.outputs.length > 1) this.outputs.splice(at, 1);
    this.at = Math.min(this.at, this.outputs.length - 1);
  }

  /** Lays one output nearer to the limb, or further from it when `by` is 1. */
  moveOutput(at: number, by: -1 | 1): void {
    const output = this.outputs[at];
    if (output === undefined || this.outputs[at + by] === undefined) return;
    this.outputs.splice(at, 1);
    this.outputs.splice(at + by, 0, output);
    this.at = at + by;
  }

  /** The same numbers in the other units; what cannot be read stays as it was typed. */
  turnTo(system: UnitSystem): void {
    if (system === this.system) return;
    this.#boxes.turnTo(system, this.system);
    for (const output of this.outputs) output.turnTo(system, this.system);
    if (this.sizes === this.system) this.sizes = system;
    this.system = system;
  }

  snapshot(): PlanSnapshot {
    const { hertz, sizes, stock, round, cable, strip, threeHours, mostStrands, opening, title } = this;
    return {
      units: this.system,
      whole: {
        ...this.texts,
        ...{ hertz, sizes, round, cable, strip, threeHours, mostStrands, opening, title },
        ...Object.fromEntries(stock.split('\n').map((line, at) => [`stock.${at}`, line])),
        ...(this.needId === null ? {} : { needId: this.needId }),
        off: this.off.join(' '),
      },
      outputs: this.outputs.map((output) => output.snapshot()),
    };
  }

  /** The form as a snapshot has it, in the units of the form. */
  restore({ units, whole, outputs }: PlanSnapshot): void {
    const to = this.system;
    for (const key of planKeys) this.texts[key] = textIn(whole, key);
    for (const flag of flags) this[flag] = whole[flag] === true;
    this.hertz = whole['hertz'] === 60 ? 60 : 50;
    this.sizes = everySize.find((each) => each === whole['sizes']) ?? units;
    const lines: string[] = [];
    for (let at = 0; typeof whole[`stock.${at}`] === 'string'; at += 1) lines.push(textIn(whole, `stock.${at}`));
    this.stock = lines.join('\n');
    this.mostStrands = typeof whole['mostStrands'] === 'number' ? whole['mostStrands'] : 8;
    this.opening = whole['opening'] === 'opened' ? 'opened' : 'closed';
    this.title = textIn(whole, 'title');
    this.needId = typeof whole['needId'] === 'number' ? whole['needId'] : null;
    this.off = textIn(whole, 'off').split(' ').filter(Boolean).map(Number);
    const made = outputs.map((texts, at) => OutputForm.from(texts, `o${at}`));
    this.outputs = made.length > 0 ? made : [new OutputForm('a', 'Output 1')];
    this.at = Math.min(this.at, this.outputs.length - 1);
    this.system = units;
    this.turnTo(to);
  }
}

const empty = (): Record<PlanKey, string> => ({
  primaryVolts: '',
  breaker: '',
  added: '',
  addedWire: '',
  mostAmps: '',
  mostWatts: '',
  windowWidth: '',
  windowHeight: '',
  inner: '',
  base: '',
  between: '',
  interlayer: '',
  margin: '',
  clearance: '',
  density: '',
  fill: '',
  tesla: '',
  celsius: '',
  line: '',
  leakage: '',
  rise: '',
  minutes: '',
  onMinutes: '',
  offMinutes: '',
  limitRise: '',
});
