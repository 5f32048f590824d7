import type { Answer, Refusal } from '../../../src-shared/calculation/answer.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { calculations, type CalculationName } from '../../../src-shared/calculation/table.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { fillForm } from './fill-form.ts';
import { isEmptyNode, nodeOf, type FormNode, type Leaf, type ListNode } from './form-node.svelte.ts';
import { nodeAt, readForm, type FormRead, type Missing } from './read-form.ts';
import { acceptedWords } from './read-leaf.ts';
import { putTyped, typedOf, type TypedForm } from './typed-form.ts';

export type Answered = Extract<Answer<unknown>, { ok: true }>;

/** What the form comes to at this moment. */
export type Outcome =
  | { readonly kind: 'empty' }
  | { readonly kind: 'missing'; readonly missing: readonly Missing[] }
  /** Something that was typed cannot be taken: `node` is the first of it, null where no field is meant. */
  | { readonly kind: 'wrong'; readonly message: string; readonly node: FormNode | null }
  | { readonly kind: 'answered'; readonly answer: Answered };

export interface Judged {
  /** As the calculation would take it; without what is missing or cannot be read. */
  readonly input: unknown;
  /** What is wrong at each field, list or group. */
  readonly problems: ReadonlyMap<FormNode, string>;
  readonly outcome: Outcome;
}

interface Before {
  /** What was done: `cleared`. */
  readonly what: string;
  readonly typed: TypedForm;
}

/** So many steps back are kept. */
const deepest = 30;

const boundCodes: ReadonlySet<string> = new Set([
  'negative',
  'zero',
  'too-small',
  'too-large',
  'not-whole',
  'not-finite',
]);

/** What is wrong, in the units of the field where it stands. */
function problemWords(
  { code, message, path }: Refusal['error'],
  node: FormNode | null,
  places: FormRead['places'],
): string {
  if (node?.kind !== 'leaf' || !boundCodes.has(code)) return message;
  const isItsValue = places.get(path) === node || path.endsWith('.value');
  return isItsValue ? `Type ${acceptedWords(node.shape, node.unit)}.` : `What stands after ±: ${message}`;
}

/** The inputs of one calculation as they stand in its form, and what they come to. */
export class WorkingForm {
  readonly name: CalculationName;
  readonly system: UnitSystem;
  readonly root: FormNode;
  #before = $state.raw<readonly Before[]>([]);

  constructor(name: CalculationName, system: UnitSystem) {
    this.name = name;
    this.system = system;
    this.root = nodeOf(calculations[name].inputShape, system);
  }

  get isEmpty(): boolean {
    return isEmptyNode(this.root);
  }

  get typed(): TypedForm {
    return typedOf(this.root);
  }

  /** The last thing done that can be taken back; null when there is none. */
  get lastDone(): string | null {
    return this.#before.at(-1)?.what ?? null;
  }

  /** What stands there comes to this. Read it in a `$derived`: the form outlives every component that shows it. */
  judge(): Judged {
    const { input, missing, unread, places } = readForm(this.root);
    const problems = new Map<FormNode, string>(unread);
    for (const refusal of calculations[this.name].refusals(input)) {
      const node = nodeAt(places, refusal.path);
      if (refusal.code === 'missing-key' || node === null || problems.has(node)) continue;
      if (missing.some((each) => each.node === node)) continue;
      problems.set(node, problemWords(refusal, node, places));
    }
    const [first] = problems;
    if (first !== undefined) return { input, problems, outcome: { kind: 'wrong', node: first[0], message: first[1] } };
    if (missing.length > 0) {
      return { input, problems, outcome: this.isEmpty ? { kind: 'empty' } : { kind: 'missing', missing } };
    }
    const name: string = this.name;
    const answer = calculate(name, input);
    if (answer.ok) return { input, problems, outcome: { kind: 'answered', answer } };
    if (this.isEmpty) return { input, problems, outcome: { kind: 'empty' } };
    const node = nodeAt(places, answer.error.path);
    const message = problemWords(answer.error, node, places);
    if (node !== null) problems.set(node, message);
    return { input, problems, outcome: { kind: 'wrong', node, message } };
  }

  /** Does something that can be taken back. */
  change(what: string, act: () => void): void {
    const typed = this.typed;
    act();
    this.#before = [...this.#before, { what, typed }].slice(-deepest);
  }

  /** Puts back what stood there before the last change. */
  takeBack(): string | null {
    const before = this.#before.at(-1);
    if (before === undefined) return null;
    this.#before = this.#before.slice(0, -1);
    this.put(before.typed);
    return before.what;
  }

  /** Puts in what was typed at another time. */
  put(typed: TypedForm): void {
    this.#empty();
    putTyped(this.root, typed);
  }

  clear(): void {
    if (!this.isEmpty) this.change('cleared', () => this.#empty());
  }

  startFromExample(): void {
    this.take('the example put in', calculations[this.name].example);
  }

  /** Puts in an input as the calculation takes it. */
  take(what: string, input: unknown): void {
    this.change(what, () => {
      this.#empty();
      fillForm(this.root, input);
    });
  }

  /** Adds, removes or moves rows; a field that names a row keeps naming the same one. */
  changeRows(what: string, list: ListNode, act: () => void): void {
    const pointing = this.#pointingAt(this.root, list).map((leaf) => ({
      leaf,
      row: usedRows(list)[Number(leaf.text)],
    }));
    this.change(what, act);
    for (const { leaf, row } of pointing) {
      if (leaf.text === '' || row === undefined) continue;
      const at = usedRows(list).indexOf(row);
      leaf.text = at < 0 ? '' : String(at);
    }
  }

  #pointingAt(node: FormNode, list: ListNode): readonly Leaf[] {
    if (node.kind !== 'group') return [];
    const key = node.fields.find((each) => each.node === list)?.field.key;
    return node.fields.flatMap(({ node: part }) => {
      if (part.kind !== 'leaf') return this.#pointingAt(part, list);
      return key !== undefined && part.shape.kind === 'number' && part.shape.indexOf === key ? [part] : [];
    });
  }

  #empty(): void {
    putTyped(this.root, typedOf(nodeOf(calculations[this.name].inputShape, this.system)));
  }
}

/** The rows that count, in their order: those of which the calculation hears. */
export const usedRows = (list: ListNode): ListNode['rows'] => list.rows.filter((row) => !isEmptyNode(row.node));
