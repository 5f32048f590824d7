import { refuse } from '../../src-shared/calculation/answer.ts';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import { jsonSchemaOf } from '../../src-shared/calculation/json-schema.ts';
import { calculations, isCalculationName } from '../../src-shared/calculation/table.ts';

/** What a command prints on standard output, and how it ends: 0 answered, 2 refused. */
export interface Printed {
  readonly text: string;
  readonly exitCode: 0 | 2;
}

const usage = 'Use: calc --list, calc NAME --schema, or calc NAME < input.json';

const asLine = (answer: { readonly ok: boolean }): Printed => ({
  text: `${JSON.stringify(answer)}\n`,
  exitCode: answer.ok ? 0 : 2,
});

function list(): Printed {
  const widest = Math.max(...Object.keys(calculations).map((name) => name.length));
  const lines = Object.values(calculations).map(({ name, title }) => `${name.padEnd(widest)}  ${title}\n`);
  return { text: lines.join(''), exitCode: 0 };
}

function schemaOf(name: string): Printed {
  // An unknown name is refused with the nearest one before any input is looked at.
  if (!isCalculationName(name)) return asLine(calculate(name, null));
  const { title, inputShape } = calculations[name];
  return { text: `${JSON.stringify(jsonSchemaOf(title, inputShape), null, 2)}\n`, exitCode: 0 };
}

async function answer(name: string, readInput: () => Promise<string>): Promise<Printed> {
  if (!isCalculationName(name)) return asLine(calculate(name, null));
  const text = (await readInput()).replace(/^\uFEFF/, '');
  if (text.trim() === '') return asLine(refuse('no-input', `No input on standard input. ${usage}.`));
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return asLine(refuse('bad-json', `The input is not JSON: ${why}.`));
  }
  return asLine(calculate(name, input));
}

/**
 * The calc command: `--list`, `NAME --schema`, or `NAME` with one JSON object as input. Every failure is a refusal in
 * JSON with exit code 2; `readInput` is asked only when there is something to compute.
 */
export async function calcVerb(args: readonly string[], readInput: () => Promise<string>): Promise<Printed> {
  const [first, second, ...rest] = args;
  const isTooMuch = rest.length > 0 || (second !== undefined && second !== '--schema');
  if (first === '--list' && second === undefined) return list();
  if (first === undefined || first.startsWith('-') || isTooMuch) return asLine(refuse('no-input', `${usage}.`));
  return second === '--schema' ? schemaOf(first) : answer(first, readInput);
}
