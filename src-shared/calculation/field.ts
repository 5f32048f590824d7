import * as v from 'valibot';
import type { Estimate } from '../quantity/estimate.ts';
import { nearestName } from './nearest-name.ts';
import { shapeOf, type Bounds, type InputShape } from './input-shape.ts';

/**
 * The fields that inputs of calculations are built from. Each is a valibot schema that carries its label, unit and bounds
 * once, as metadata: the refusals, the forms and the JSON Schema all come from it.
 */

/** What a person is told about a field. */
interface About {
  readonly label: string;
  readonly help?: string;
}

interface AboutNumber extends About, Bounds {
  /** Symbol as results use it; left out for counts and ratios. */
  readonly unit?: string;
}

const facts = (shape: InputShape, { label, help }: About) => ({ shape, label, help: help ?? null });

/** No quantity of this trade lies further from 1, and products of a few such numbers stay finite. */
const largest = 1e15;
const smallest = 1e-15;

/** A finite number within bounds; each bound is refused with what would be accepted. */
const within = ({ above, below, atLeast, atMost }: Bounds) =>
  v.pipe(
    v.number('Expected a number.'),
    v.finite('Expected a finite number.'),
    v.minValue(-largest, `Must not be beyond -${largest}.`),
    v.maxValue(largest, `Must not be beyond ${largest}.`),
    v.check((given) => given === 0 || Math.abs(given) >= smallest, `Must not be nearer to 0 than ${smallest}.`),
    v.gtValue(above ?? -Infinity, `Must be above ${above}.`),
    v.ltValue(below ?? Infinity, `Must be below ${below}.`),
    v.minValue(atLeast ?? -Infinity, `Must be at least ${atLeast}.`),
    v.maxValue(atMost ?? Infinity, `Must be at most ${atMost}.`),
  );

const notNegative = within({ atLeast: 0 });

const boundsOf = ({ above, below, atLeast, atMost }: Bounds): Bounds => ({
  ...(above === undefined ? {} : { above }),
  ...(below === undefined ? {} : { below }),
  ...(atLeast === undefined ? {} : { atLeast }),
  ...(atMost === undefined ? {} : { atMost }),
});

/** A plain number: chosen or counted, never doubtful. */
export const plainNumber = (about: AboutNumber) =>
  v.pipe(
    within(about),
    v.metadata(facts({ kind: 'number', unit: about.unit ?? null, whole: false, bounds: boundsOf(about) }, about)),
  );

/** A whole number; with `indexOf`, a place in the list of that key in the same group, counted from 0. */
export const wholeNumber = (about: AboutNumber & { readonly indexOf?: string }) => {
  const { unit = null, indexOf } = about;
  const shape: InputShape = { kind: 'number', unit, whole: true, bounds: boundsOf(about) };
  return v.pipe(
    within(about),
    v.safeInteger('Expected a whole number.'),
    v.metadata(facts(indexOf === undefined ? shape : { ...shape, indexOf }, about)),
  );
};

/**
 * A measured input: a number (exact), or its value with standard uncertainty, shape, degrees of freedom and shared part.
 * `u: null` says that nobody knows the uncertainty; then that of every result it enters is null as well.
 * The parsed form is always an `Estimate`.
 */
export const measured = (about: AboutNumber & { readonly isWireSize?: true }) => {
  const value = within(about);
  const number = v.pipe(
    value,
    v.transform((exactly): Estimate => ({ value: exactly, u: 0, shape: 'normal', dof: Infinity })),
  );
  const estimate = v.pipe(
    keys({
      value,
      u: v.nullable(notNegative),
      shape: v.exactOptional(v.picklist(shapes, `Expected one of: ${shapes.join(', ')}.`), 'normal'),
      dof: v.exactOptional(v.nullable(within({ atLeast: 1 })), null),
      shared: v.exactOptional(keys({ id: v.pipe(v.string('Expected text.'), v.minLength(1)), u: notNegative })),
    }),
    v.transform((given): Estimate => ({ ...given, dof: given.dof ?? Infinity })),
  );
  return v.pipe(
    v.lazy<v.GenericSchema<MeasuredInput, Estimate>>((given) => (isGroup(given) ? estimate : number)),
    v.metadata(
      facts(
        {
          kind: 'measured',
          unit: about.unit ?? null,
          bounds: boundsOf(about),
          ...(about.isWireSize === undefined ? {} : { isWireSize: about.isWireSize }),
        },
        about,
      ),
    ),
  );
};

const shapes = ['normal', 'rectangular', 'triangular'] as const;

/** A measured input as it is written in a file or a form. */
export type MeasuredInput =
  | number
  | {
      readonly value: number;
      readonly u: number | null;
      readonly shape?: Estimate['shape'];
      /** Left out or null: known well. */
      readonly dof?: number | null;
      readonly shared?: { readonly id: string; readonly u: number };
    };

const isGroup = (given: unknown) => typeof given === 'object' && given !== null;

/** One word of a closed list; `words` says those better that do not speak for themselves. */
export const choice = <const C extends readonly [string, ...string[]]>(
  choices: C,
  about: About & { readonly words?: Readonly<Record<string, string>> },
) =>
  v.pipe(
    v.picklist(choices, `Expected one of: ${choices.join(', ')}.`),
    v.metadata(
      facts(
        about.words === undefined ? { kind: 'choice', choices } : { kind: 'choice', choices, words: about.words },
        about,
      ),
    ),
  );

/** A whole number, or one of some names for what lies outside of counting: a wire gauge is 12 or `1/0`. */
export const wholeNumberOrName = <const C extends readonly [string, ...string[]]>(names: C, about: AboutNumber) => {
  const number = v.pipe(within(about), v.safeInteger('Expected a whole number.'));
  const name = v.picklist(names, `Expected a whole number or one of: ${names.join(', ')}.`);
  return v.pipe(
    v.lazy<v.GenericSchema<number | C[number]>>((given) => (typeof given === 'string' ? name : number)),
    v.metadata(
      facts(
        {
          kind: 'either',
          of: [
            { kind: 'number', unit: about.unit ?? null, whole: true, bounds: boundsOf(about) },
            { kind: 'choice', choices: names },
          ],
        },
        about,
      ),
    ),
  );
};

/** Yes or no. */
export const flag = (about: About) =>
  v.pipe(v.boolean('Expected true or false.'), v.metadata(facts({ kind: 'flag' }, about)));

/** A few words that are only passed on: a name, an id. */
export const text = (about: About) =>
  v.pipe(
    v.string('Expected text.'),
    v.minLength(1, 'Must not be empty.'),
    v.maxLength(200, 'At most 200 characters.'),
    v.metadata(facts({ kind: 'text' }, about)),
  );

/** A list of at least one item, or as many as said; indices count from 0. */
export const list = <const S extends v.GenericSchema>(
  item: S,
  about: About & { readonly atLeast?: number; readonly atMost?: number },
) => {
  const { atLeast = 1, atMost = 1000 } = about;
  return v.pipe(
    v.array(item, 'Expected a list.'),
    v.minLength(atLeast, `Needs at least ${atLeast}.`),
    v.maxLength(atMost, `Takes at most ${atMost}.`),
    v.metadata(facts({ kind: 'list', of: shapeOf(item), atLeast, atMost }, about)),
  );
};

/** May be left out; with a default, the default is put in its place. */
export const optional = v.exactOptional;

/** A strict object: an unknown key is refused by name, with the nearest known one. */
const keys = <const E extends v.ObjectEntries>(entries: E) =>
  v.strictObject(entries, (issue) => {
    if (issue.expected === 'never') return unknownKey(String(issue.input), Object.keys(entries));
    return issue.expected === 'Object' ? 'Expected a group of named values.' : `Missing: ${issue.expected}.`;
  });

const unknownKey = (key: string, known: readonly string[]) =>
  `Unknown key "${key}". The nearest known one is "${nearestName(key, known)}".`;

/** Named fields that belong together; with `onlyWith`, a form asks them only with that choice in the field beside it. */
export const group = <const E extends v.ObjectEntries>(
  entries: E,
  about: About & { readonly onlyWith?: { readonly key: string; readonly choice: string } } = { label: '' },
) =>
  v.pipe(
    keys(entries),
    v.metadata(
      facts(
        {
          kind: 'group',
          ...(about.onlyWith === undefined ? {} : { onlyWith: about.onlyWith }),
          fields: Object.entries(entries).map(([key, entry]) => {
            const optionalEntry = isOptional(entry);
            const { label, help } = v.getMetadata(optionalEntry ? entry.wrapped : entry);
            return {
              key,
              label: typeof label === 'string' ? label : key,
              help: typeof help === 'string' ? help : null,
              required: !optionalEntry,
              preset: optionalEntry ? presetOf(entry.default) : null,
              shape: shapeOf(optionalEntry ? entry.wrapped : entry),
            };
          }),
        },
        about,
      ),
    ),
  );

const isOptional = (schema: unknown): schema is v.ExactOptionalSchema<v.GenericSchema, unknown> =>
  typeof schema === 'object' && schema !== null && 'type' in schema && schema.type === 'exact_optional';

const presetOf = (preset: unknown): Preset | null =>
  typeof preset === 'number' || typeof preset === 'string' || typeof preset === 'boolean' ? preset : null;
type Preset = number | string | boolean;
