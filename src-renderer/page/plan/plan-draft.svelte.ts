import * as v from 'valibot';
import type { Need } from '../../../src-shared/record/need.ts';
import { PlanFields } from '../../../src-shared/record/plan.ts';
import type { Keeping } from '../../state/keeping.ts';
import type { PlanForm, PlanSnapshot } from './plan-form.svelte.ts';
import { PlanHistory } from './plan-history.svelte.ts';

const figure = v.exactOptional(v.number());
const Room = v.strictObject({ inner: figure, windowWidth: figure, windowHeight: figure });
type Room = v.InferOutput<typeof Room>;
const KeptDraft = v.strictObject({
  planId: v.nullable(v.number()),
  asked: PlanFields.entries.asked,
  room: v.optional(v.nullable(Room)),
});

/** Two rooms that the boxes, which show four digits, cannot tell apart. */
const isSameRoom = (one: Room, other: Room): boolean =>
  (['inner', 'windowWidth', 'windowHeight'] as const).every((key) => {
    const [a, b] = [one[key], other[key]];
    return a === b || (a !== undefined && b !== undefined && Math.abs(a - b) <= Math.max(0.05, 1e-3 * b));
  });

/** A plan that is being made: its form, its steps, and what a reload brings back. Belongs to one build. */
export class PlanDraft {
  readonly form: PlanForm;
  readonly history: PlanHistory;
  /** The need that the page was opened for, so that it is taken once. */
  needTaken: number | null = null;
  #leakageFilled = false;
  /** The room of the record that stands in the boxes; null where the person's own may. */
  #room: Room | null;
  readonly #keep: () => void;

  /** @param key - what the draft is kept under over reloads */
  constructor(form: PlanForm, keeping: Keeping, key: string) {
    this.form = form;
    this.#room = this.#roomInBoxes;
    const kept = v.safeParse(KeptDraft, keeping.read(key));
    if (kept.success) {
      form.restore(kept.output.asked);
      form.planId = kept.output.planId;
      this.#room = kept.output.room ?? null;
    }
    this.#keep = () => {
      keeping.write(key, { planId: form.planId, asked: form.snapshot(), room: this.#room });
    };
    this.history = new PlanHistory(form, this.#keep);
  }

  /** Keeps for a reload what is no step of the form: which plan the next version belongs to. */
  keepPlanId(planId: number | null): void {
    this.form.planId = planId;
    this.#keep();
  }

  /** Puts a measured leakage into its box, once, where nothing stands there. */
  fillLeakage(ohms: number): void {
    if (this.#leakageFilled) return;
    this.#leakageFilled = true;
    if (this.form.texts.leakage === '') this.form.put({ leakage: ohms });
  }

  get #roomInBoxes(): Room {
    const { inner, windowWidth, windowHeight } = this.form.read.numbers;
    return {
      ...(inner === undefined ? {} : { inner }),
      ...(windowWidth === undefined ? {} : { windowWidth }),
      ...(windowHeight === undefined ? {} : { windowHeight }),
    };
  }

  /** Whether the boxes say of the room what the record says. */
  isRoom(room: Room): boolean {
    return isSameRoom(this.#roomInBoxes, room);
  }

  /** Puts the room as the record has it now, where the boxes still stand as it was put before; the person's own stays. */
  followRoom(room: Room): void {
    if (!this.isRoom(room)) {
      if (this.#room === null || !this.isRoom(this.#room)) return;
      this.history.mark();
      this.form.putRoom(room);
      this.history.mark();
    }
    this.#room = room;
    this.#keep();
  }

  /** Takes a version up again: the form as it stood, one step, and the next version belongs to its plan. */
  takeUp(planId: number, asked: PlanSnapshot): void {
    this.history.mark();
    this.form.restore(asked);
    this.history.mark();
    this.keepPlanId(planId);
  }

  /** Begins a plan for a need: its output, or two halves for a centre tap, and its circuit. */
  takeNeed({ needId, fields }: Need): void {
    const { form } = this;
    this.history.mark();
    const { label, volts, amps, feeds, powerFactor, circuit } = fields;
    const halves = feeds === 'centre-tap' ? ['half 1', 'half 2'] : [null];
    form.outputs = [];
    for (const half of halves) {
      const output = form.addOutput(half === null ? label : `${label}, ${half}`);
      output.feeds = feeds;
      output.put({ loadVolts: volts, loadAmps: amps, ...(powerFactor === undefined ? {} : { powerFactor }) });
    }
    form.at = 0;
    form.title = label;
    form.needId = needId;
    if (circuit !== undefined) {
      form.hertz = circuit.hertz;
      form.put({ primaryVolts: circuit.volts, breaker: circuit.amps });
    }
    if (fields.use.kind === 'continuous') form.threeHours = true;
    else form.put({ onMinutes: fields.use.onMinutes, offMinutes: fields.use.offMinutes });
    this.history.mark();
    this.keepPlanId(null);
    this.needTaken = needId;
  }
}
