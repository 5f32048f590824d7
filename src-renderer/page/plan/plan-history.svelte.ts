import type { PlanForm, PlanSnapshot } from './plan-form.svelte.ts';

/** Steps that can be taken back; older ones are forgotten. */
const stepsAtMost = 200;

/** The steps of a form: what is typed into one box without a pause is one. */
export class PlanHistory {
  readonly #form: PlanForm;
  readonly #keep: (snapshot: PlanSnapshot) => void;
  #now: PlanSnapshot;
  #past = $state.raw<readonly PlanSnapshot[]>([]);
  #future = $state.raw<readonly PlanSnapshot[]>([]);

  /** `keep` is told of every step, for a reload. */
  constructor(form: PlanForm, keep: (snapshot: PlanSnapshot) => void) {
    this.#form = form;
    this.#keep = keep;
    this.#now = form.snapshot();
  }

  get canUndo(): boolean {
    return this.#past.length > 0;
  }

  get canRedo(): boolean {
    return this.#future.length > 0;
  }

  /** Takes the form as it stands for a step of its own, when it differs from the last one. */
  mark(): void {
    const snapshot = this.#form.snapshot();
    if (JSON.stringify(snapshot) === JSON.stringify(this.#now)) return;
    this.#past = [...this.#past, this.#now].slice(-stepsAtMost);
    this.#future = [];
    this.#now = snapshot;
    this.#keep(snapshot);
  }

  undo(): void {
    this.mark();
    const to = this.#past.at(-1);
    if (to === undefined) return;
    this.#past = this.#past.slice(0, -1);
    this.#future = [...this.#future, this.#now];
    this.#goTo(to);
  }

  redo(): void {
    this.mark();
    const to = this.#future.at(-1);
    if (to === undefined) return;
    this.#future = this.#future.slice(0, -1);
    this.#past = [...this.#past, this.#now];
    this.#goTo(to);
  }

  #goTo(snapshot: PlanSnapshot): void {
    this.#form.restore(snapshot);
    this.#now = this.#form.snapshot();
    this.#keep(this.#now);
  }
}
