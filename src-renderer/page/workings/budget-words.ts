import type { BudgetLine } from '../../../src-shared/calculation/answer.ts';
import type { InputShape } from '../../../src-shared/calculation/input-shape.ts';

/** What calculations call doubts that are no input. */
const ownDoubts: Readonly<Record<string, string>> = {
  scatter: 'Scatter of the points',
  constant: 'Constant of the metal',
  diode: 'Forward volts of the diodes',
  stackingFactor: 'Stacking factor',
  i: 'Load current',
  interpolation: 'Interpolation between the points',
  lossInterpolation: 'Interpolation of the loss',
  exponent: 'Power of the supply volts',
  allowance: 'Allowance for the supply volts',
  'limb.corner': 'Corners of the turns',
  'flux.voltsBefore': 'Supply volts before',
  'flux.voltsAfter': 'Supply volts after',
  'before.value': 'Value before',
  'after.value': 'Value after',
  read: 'Ohms by two wires',
  'iron.stackingFactor': 'Stacking factor',
};

/** A doubt's source in the words of the form: `Readings, row 2: Test-coil volts`. */
export function budgetWord(shape: InputShape, input: string): string {
  if (input.startsWith('shared:')) return `Shared by ${input.slice('shared:'.length)}`;
  const [, name = input, index] = /^(.*)\.(\d+)$/.exec(input) ?? [];
  const own = ownDoubts[name];
  if (own !== undefined) return index === undefined ? own : `${own}, row ${Number(index) + 1}`;
  return anywhere(shape, input.split('.')) ?? spaced(input);
}

/** Some calculations name a field of a group without its group. */
function anywhere(shape: InputShape, keys: readonly string[]): string | null {
  const said = walk(shape, keys);
  if (said !== null || shape.kind !== 'group') return said;
  for (const field of shape.fields) {
    const below = anywhere(field.shape, keys);
    if (below !== null) return below;
  }
  return null;
}

function walk(shape: InputShape, keys: readonly string[]): string | null {
  const [key, ...rest] = keys;
  if (key === undefined) return '';
  if (shape.kind === 'list') {
    if (!/^\d+$/.test(key)) return null;
    return [`row ${Number(key) + 1}`, walk(shape.of, rest)].filter((part) => part !== '').join(': ');
  }
  if (shape.kind !== 'group') return null;
  const field = shape.fields.find((each) => each.key === key);
  if (field === undefined) return null;
  const below = walk(field.shape, rest);
  if (below === null) return null;
  return below === '' ? field.label : `${field.label}${field.shape.kind === 'list' ? ', ' : ': '}${below}`;
}

/** `windowWidthMm.left` as words, for a doubt that has no name of its own. */
export function spaced(key: string): string {
  const words = key
    .replaceAll('.', ' ')
    .replace(/([a-z\d])([A-Z])/g, '$1 $2')
    .toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export interface Share {
  readonly words: string;
  readonly share: number;
  /** What it does to the result, in the result's unit. */
  readonly u: number | null;
}

/** More than these make no picture: the rest stands together. */
const mostBars = 6;

/** The largest shares of a result's doubt, and the others as one. */
export function sharesOf(shape: InputShape, budget: readonly BudgetLine[]): readonly Share[] {
  const shares = budget.map(({ input, share, u }) => ({ words: budgetWord(shape, input), share, u: Math.abs(u) }));
  if (shares.length <= mostBars) return shares;
  const others = shares.slice(mostBars - 1);
  const sum = others.reduce((total, { share }) => total + share, 0);
  return [...shares.slice(0, mostBars - 1), { words: `${others.length} others`, share: sum, u: null }];
}
