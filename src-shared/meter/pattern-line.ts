import { readValue, type LineField, type ReadValue } from './line-grammar.ts';
import { match, type GroupMatch } from './pattern-match.ts';
import { compile, type Program } from './pattern-program.ts';
import { parsePattern, patternRefusals, type PatternRefusal } from './pattern-syntax.ts';
import type { DecimalMark } from './decimal-mark.ts';

/** The groups that a pattern can have. A number behind them, 1 to 16, tells the values of a line apart. */
const groupName = /^(value|unit|prefix|coupling|overload|label)(1[0-6]|[1-9])?$/;

export type LinePattern =
  | { readonly ok: true; readonly program: Program; readonly suffixes: readonly string[] }
  | { readonly ok: false; readonly why: PatternRefusal; readonly at: number };

/** Makes a person's pattern ready for lines, or says why it cannot be. */
export function preparePattern(text: string): LinePattern {
  const parsed = parsePattern(text);
  if (!parsed.ok) return parsed;
  if (parsed.names.some((name) => !groupName.test(name))) return { ok: false, why: 'unknown-name', at: 0 };
  const suffixes = parsed.names.filter((name) => name.startsWith('value')).map((name) => name.slice('value'.length));
  if (suffixes.length === 0) return { ok: false, why: 'no-value', at: 0 };
  const program = compile(parsed.node, parsed.names);
  return program === undefined ? { ok: false, why: 'too-long', at: 0 } : { ok: true, program, suffixes };
}

/** What is wrong with a pattern, for the person; null when nothing is. */
export function patternProblem(text: string): string | null {
  const prepared = preparePattern(text);
  if (prepared.ok) return null;
  return prepared.at === 0
    ? `Pattern: ${patternRefusals[prepared.why]}`
    : `Pattern: ${patternRefusals[prepared.why]} It is at character ${prepared.at + 1}.`;
}

/** True when the number goes on over its decimal mark before or behind what the pattern took of it. */
function isCut({ text, column }: GroupMatch, line: string, decimal: DecimalMark): boolean {
  const mark = decimal === 'point' ? '.' : ',';
  const [before, behind] = [line.slice(0, column), line.slice(column + text.length)];
  const isDigit = (char = ''): boolean => char >= '0' && char <= '9';
  return (behind.startsWith(mark) && isDigit(behind[1])) || (before.endsWith(mark) && isDigit(before.at(-2)));
}

/** The value of one set of groups: put together as the generic grammar would have it, and read by that. */
function valueOf(
  groups: ReadonlyMap<string, GroupMatch>,
  suffix: string,
  line: string,
  decimal: DecimalMark,
): ReadValue {
  const textOf = (name: string): string => groups.get(`${name}${suffix}`)?.text.trim() ?? '';
  const unit = `${textOf('prefix')}${textOf('unit')} ${textOf('coupling')}`.trim();
  const overload = textOf('overload');
  const sign = overload.startsWith('-') ? '-' : '';
  const read = readValue(overload === '' ? `${textOf('value')} ${unit}`.trim() : `${sign}OL ${unit}`.trim(), decimal);
  const value = groups.get(`value${suffix}`);
  const column = value?.column ?? 0;
  if (value !== undefined && isCut(value, line, decimal))
    return { kind: 'unreadable', why: 'cut-number', at: column, text: line };
  return read.kind === 'unreadable' ? { ...read, at: column, text: line } : { ...read, text: line };
}

/**
 * Reads a line by a pattern: one field for each `value` group, in the order of the pattern, its label from its `label`
 * group or its number. The parts are read by the generic grammar, so nothing ambiguous passes here either. A group
 * `overload` that took anything makes it an overload.
 */
export function readByPattern(
  { program, suffixes }: Extract<LinePattern, { ok: true }>,
  line: string,
  decimal: DecimalMark,
): readonly LineField[] {
  const groups = match(program, line);
  if (groups === undefined) return [{ column: 0, value: { kind: 'unreadable', why: 'no-match', at: 0, text: line } }];
  return suffixes.map((suffix) => {
    const label = groups.get(`label${suffix}`)?.text ?? suffix;
    const value = valueOf(groups, suffix, line, decimal);
    const column = groups.get(`value${suffix}`)?.column ?? 0;
    return { ...(label === '' ? {} : { label }), column, value };
  });
}
