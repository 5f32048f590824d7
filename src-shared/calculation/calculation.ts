import type * as v from 'valibot';
import { caution, refuse, type Answer, type Caution, type Refusal, type ResultValue, type Worked } from './answer.ts';
import { shapeOf, type InputShape } from './input-shape.ts';
import { readInput } from './read-input.ts';

/** What a calculation is written as: one of these per file. */
interface Definition<S extends v.GenericSchema, R> {
  /** Lower case with hyphens; a contract, never renamed. */
  readonly name: string;
  readonly title: string;
  /** Counts up when the same input would give another answer. */
  readonly version: number;
  /** Where the formulas come from: title, edition, clause or page; or "common practice, no source". */
  readonly sources: readonly string[];
  /** Built from `field.ts`. */
  readonly input: S;
  /** A valid input: documentation, pre-filled form and the seed of the tests that break it. */
  readonly example: v.InferInput<S>;
  /** The physics: pure, and complete without the checks that the schema made. */
  readonly run: (input: v.InferOutput<S>) => Worked<R> | Refusal;
}

/** What everybody else sees of a calculation. */
export interface Calculation<R = Readonly<Record<string, ResultValue>>> {
  readonly name: string;
  readonly title: string;
  readonly version: number;
  readonly sources: readonly string[];
  readonly inputShape: InputShape;
  readonly example: unknown;
  /** Reads the input, computes, and lets nothing out that is not a number. Never throws on any input. */
  readonly answer: (input: unknown) => Answer<R>;
}

/** Puts the reading of the input before, and the gate on every number after, the physics. */
export function defineCalculation<S extends v.GenericSchema, R>(definition: Definition<S, R>): Calculation<R> {
  const { name, title, version, sources, input: schema, example, run } = definition;
  return {
    name,
    title,
    version,
    sources,
    inputShape: shapeOf(schema),
    example,
    answer: (input) => {
      const read = readInput(schema, input);
      if (!read.ok) return read;
      const outcome = run(read.value);
      if (!outcome.ok) return outcome;
      const { results, working, cautions } = outcome;
      const seen = lookThrough({ results, working });
      if (seen.notFinite !== null) {
        return refuse('result-not-finite', `These values give no finite number for ${seen.notFinite}.`);
      }
      return {
        ok: true,
        name,
        version,
        results,
        working,
        cautions: [...cautions, ...roughCautions(seen.rough)],
        sources,
      };
    },
  };
}

interface Seen {
  /** Path of the first number that is not finite. */
  notFinite: string | null;
  /** Paths of results whose u is only rough. */
  readonly rough: string[];
}

function lookThrough(tree: object): Seen {
  const seen: Seen = { notFinite: null, rough: [] };
  const look = (thing: unknown, path: string) => {
    if (typeof thing === 'number' && !Number.isFinite(thing)) seen.notFinite ??= path;
    if (typeof thing !== 'object' || thing === null) return;
    if ('rough' in thing && thing.rough === true) seen.rough.push(path);
    for (const [key, part] of Object.entries(thing)) look(part, path === '' ? key : `${path}.${key}`);
  };
  look(tree, '');
  return seen;
}

const roughCautions = (paths: readonly string[]): readonly Caution[] =>
  paths.length === 0
    ? []
    : [
        caution(
          'rough-uncertainty',
          `The uncertainty of ${paths.map((path) => path.replace('results.', '')).join(', ')} is only a rough figure: ` +
            'the inputs are so doubtful that the formula bends within their range.',
        ),
      ];
