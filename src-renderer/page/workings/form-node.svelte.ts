import type { InputField, InputShape } from '../../../src-shared/calculation/input-shape.ts';
import { unitsLike, type UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { DoubtMeans } from './doubt-means.ts';
import { shownUnit } from './own-units.ts';

export type GroupShape = Extract<InputShape, { kind: 'group' }>;
export type ListShape = Extract<InputShape, { kind: 'list' }>;
export type LeafShape = Exclude<InputShape, GroupShape | ListShape>;

/** What stands in the boxes of one value, as typed. */
export interface LeafTexts {
  text: string;
  /** The unit that a bare number is in; '' where there is none to choose. */
  unit: string;
  /** After the ±; '' is exact, '?' is not known. */
  doubt: string;
  means: DoubtMeans;
  dof: string;
  sharedId: string;
  sharedDoubt: string;
}

let made = 0;
const freshId = (): string => `field-${++made}`;

/** One value of an input, as the person typed it. A choice or a flag is its word; nothing chosen is ''. */
export class Leaf implements LeafTexts {
  readonly kind = 'leaf';
  /** For the page: the box of this value. */
  readonly id = freshId();
  readonly shape: LeafShape;
  text = $state('');
  unit = $state('');
  doubt = $state('');
  means = $state<DoubtMeans>('standard');
  dof = $state('');
  sharedId = $state('');
  sharedDoubt = $state('');

  constructor(shape: LeafShape, system: UnitSystem) {
    this.shape = shape;
    this.unit = shownUnit(system, unitOf(shape) ?? '');
  }

  get isEmpty(): boolean {
    return this.text.trim() === '' && this.doubt.trim() === '';
  }
}

/** The unit of a value as its calculation takes it; null for counts, ratios and words. */
export const unitOf = (shape: LeafShape): string | null =>
  shape.kind === 'measured' || shape.kind === 'number' ? shape.unit : null;

/** Where a gauge is typed in place of a diameter or an area. */
export const gaugeUnit = 'AWG';

/** The units that a value may be typed in; fewer than two: nothing to choose. */
export function unitChoices(shape: LeafShape): readonly string[] {
  const unit = unitOf(shape);
  if (unit === null) return [];
  const isWireSize = shape.kind === 'measured' && shape.isWireSize === true;
  return isWireSize ? [...unitsLike(unit), gaugeUnit] : unitsLike(unit);
}

/** Named values that belong together. */
export class GroupNode {
  readonly kind = 'group';
  readonly id = freshId();
  readonly fields: readonly { readonly field: InputField; readonly node: FormNode }[];
  /** An optional group that is there although nothing in it may be: it says that nothing is so. */
  isGiven = $state(false);

  constructor(shape: GroupShape, system: UnitSystem) {
    this.fields = shape.fields.map((field) => ({ field, node: nodeOf(field.shape, system) }));
  }
}

/** Whether a group that belongs to a choice is asked now; null where it belongs to none. */
export function isAskedBy({ fields }: GroupNode, shape: InputShape): boolean | null {
  if (shape.kind !== 'group' || shape.onlyWith === undefined) return null;
  const { key, choice } = shape.onlyWith;
  const chosen = fields.find(({ field }) => field.key === key)?.node;
  return chosen?.kind === 'leaf' && chosen.text === choice;
}

interface Row {
  readonly id: string;
  readonly node: FormNode;
}

/** Rows of the same shape. A row in which nothing is typed does not count. */
export class ListNode {
  readonly kind = 'list';
  readonly id = freshId();
  readonly shape: ListShape;
  rows = $state.raw<readonly Row[]>([]);
  readonly #system: UnitSystem;

  constructor(shape: ListShape, system: UnitSystem) {
    this.shape = shape;
    this.#system = system;
    this.resize(Math.min(Math.max(shape.atLeast, 1), 4));
  }

  get canGrow(): boolean {
    return this.rows.length < this.shape.atMost;
  }

  /** Makes it so many rows: new ones at the end, or the last ones taken off. */
  resize(count: number): void {
    while (this.rows.length < Math.min(count, this.shape.atMost)) this.addRow();
    this.rows = this.rows.slice(0, count);
  }

  /** A new row, in the units of the one before it. */
  addRow(at = this.rows.length): Row {
    const row = { id: freshId(), node: nodeOf(this.shape.of, this.#system) };
    const like = this.rows[at - 1] ?? this.rows[at];
    if (like !== undefined) sameUnits(like.node, row.node);
    this.rows = this.rows.toSpliced(at, 0, row);
    return row;
  }

  removeRow(at: number): void {
    this.rows = this.rows.toSpliced(at, 1);
    if (this.rows.length === 0) this.addRow();
  }

  moveRow(from: number, to: number): void {
    const row = this.rows[from];
    if (row === undefined || to < 0 || to >= this.rows.length) return;
    this.rows = this.rows.toSpliced(from, 1).toSpliced(to, 0, row);
  }
}

export type FormNode = Leaf | GroupNode | ListNode;

/** An empty form of a shape; units as the system has them. */
export function nodeOf(shape: InputShape, system: UnitSystem): FormNode {
  if (shape.kind === 'group') return new GroupNode(shape, system);
  return shape.kind === 'list' ? new ListNode(shape, system) : new Leaf(shape, system);
}

/** Every value below a node, in the order of the form. */
export function leavesOf(node: FormNode): readonly Leaf[] {
  if (node.kind === 'leaf') return [node];
  return node.kind === 'group'
    ? node.fields.flatMap((each) => leavesOf(each.node))
    : node.rows.flatMap((row) => leavesOf(row.node));
}

export const isEmptyNode = (node: FormNode): boolean => leavesOf(node).every(({ isEmpty }) => isEmpty);

function sameUnits(from: FormNode, to: FormNode): void {
  const [known, fresh] = [leavesOf(from), leavesOf(to)];
  fresh.forEach((leaf, index) => {
    leaf.unit = known[index]?.unit ?? leaf.unit;
    leaf.means = known[index]?.means ?? leaf.means;
  });
}
