import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import {
  caution,
  refuse,
  type Answer,
  type Caution,
  type PhysicalResult,
  type Refusal,
  type ResultValue,
  type Worked,
} from './answer.ts';
import { shapeOf, type InputShape } from './input-shape.ts';
import { inputRefusals, readInput } from './read-input.ts';

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
  /** Everything that the schema refuses in an input, not the first alone: a form shows all of it. */
  readonly refusals: (input: unknown) => readonly Refusal['error'][];
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
    refusals: (input) => inputRefusals(schema, input),
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
        cautions: [...cautions, ...drawnCautions(seen.drawn), ...roughCautions(seen.rough)],
        sources,
      };
    },
  };
}

interface Seen {
  /** Path of the first number that is not finite. */
  notFinite: string | null;
  /** Paths of results whose u is only rough, and nothing better is known. */
  readonly rough: string[];
  /** Results that drawing the errors gives another interval. */
  readonly drawn: DrawnResult[];
}

interface DrawnResult {
  readonly path: string;
  readonly result: PhysicalResult;
}

const isPhysical = (thing: object): thing is PhysicalResult => 'value' in thing && 'interval95' in thing;

function lookThrough(tree: object): Seen {
  const seen: Seen = { notFinite: null, rough: [], drawn: [] };
  const look = (thing: unknown, path: string) => {
    if (typeof thing === 'number' && !Number.isFinite(thing)) seen.notFinite ??= path;
    if (typeof thing !== 'object' || thing === null) return;
    if (isPhysical(thing) && thing.drawn !== undefined) seen.drawn.push({ path, result: thing });
    else if ('rough' in thing && thing.rough === true) seen.rough.push(path);
    for (const [key, part] of Object.entries(thing)) look(part, path === '' ? key : `${path}.${key}`);
  };
  look(tree, '');
  return seen;
}

const named = (path: string) => path.replace('results.', '');

const drawnCautions = (all: readonly DrawnResult[]): readonly Caution[] =>
  all.flatMap(({ path, result: { unit, interval95, drawn } }) => {
    if (drawn === undefined) return [];
    const between = ([low, high]: readonly [number, number]) =>
      `${formatNumber(low, 4)} to ${formatNumber(high, 4)}${unit === '' ? '' : ` ${unit}`}`;
    const times = drawn.draws.toLocaleString('en');
    const found = `drawing the errors ${times} times gives ${between(drawn.interval95)}`;
    return [
      interval95 === null
        ? caution('drawn-only', `No simple interval can be given for ${named(path)}; ${found}.`)
        : caution(
            'drawn-differs',
            `The simple interval of ${named(path)} is ${between(interval95)}; ${found}: trust the wider one.`,
          ),
    ];
  });

const roughCautions = (paths: readonly string[]): readonly Caution[] =>
  paths.length === 0
    ? []
    : [
        caution(
          'rough-uncertainty',
          `The uncertainty of ${paths.map(named).join(', ')} is only a rough figure: ` +
            'the inputs are so doubtful that the formula bends within their range.',
        ),
      ];
