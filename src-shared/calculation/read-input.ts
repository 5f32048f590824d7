import * as v from 'valibot';
import { refuse, type Refusal, type RefusalCode } from './answer.ts';

/** Which refusal each kind of valibot issue is; what is not here is a wrong type. */
const codeOfIssue: Readonly<Record<string, RefusalCode>> = {
  finite: 'not-finite',
  safe_integer: 'not-whole',
  picklist: 'not-a-choice',
  check: 'too-small',
  min_length: 'too-few',
  max_length: 'too-many',
  max_value: 'too-large',
  lt_value: 'too-large',
};

type Issue = v.BaseIssue<unknown>;

function codeOf(issue: Issue): RefusalCode {
  if (issue.type === 'strict_object' && issue.expected === 'never') return 'unknown-key';
  if (issue.type === 'strict_object' && issue.expected !== 'Object') return 'missing-key';
  if (issue.received === 'NaN') return 'not-finite';
  if (issue.type === 'gt_value' || issue.type === 'min_value') {
    const given = Number(issue.input);
    if (issue.requirement !== 0) return 'too-small';
    return given < 0 ? 'negative' : 'zero';
  }
  return codeOfIssue[issue.type] ?? 'wrong-type';
}

const refusalOf = (issue: Issue): Refusal =>
  refuse(codeOf(issue), issue.message, (issue.path ?? []).map(({ key }) => String(key)).join('.'));

/** To a schema a list is an object whose keys are numbers: nobody misspelt those. */
const listRefused = refuse('wrong-type', 'Expected one object of named values, not a list.');

/** Everything that is wrong with an input, as far as its schema tells; empty when nothing is. */
export function inputRefusals(schema: v.GenericSchema, input: unknown): readonly Refusal['error'][] {
  if (Array.isArray(input)) return [listRefused.error];
  const parsed = v.safeParse(schema, input);
  return parsed.success ? [] : parsed.issues.map((issue) => refusalOf(issue).error);
}

/**
 * Reads an input through its schema: the parsed value, or the refusal of the first thing that is wrong, with its path as
 * keys and indices joined by dots. An unknown key comes first, since a misspelt key is also missing.
 */
export function readInput<S extends v.GenericSchema>(
  schema: S,
  input: unknown,
): { readonly ok: true; readonly value: v.InferOutput<S> } | Refusal {
  if (Array.isArray(input)) return listRefused;
  const parsed = v.safeParse(schema, input);
  if (parsed.success) return { ok: true, value: parsed.output };
  const issues: readonly Issue[] = parsed.issues;
  const issue = issues.find((each) => codeOf(each) === 'unknown-key') ?? issues[0];
  if (issue === undefined) return refuse('wrong-type', 'The input could not be read.');
  return refusalOf(issue);
}
