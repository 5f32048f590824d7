import type { LineFormat } from './line-format.ts';
import { readLine, type LineField } from './line-grammar.ts';
import { preparePattern, readByPattern } from './pattern-line.ts';

/** Reads lines by a described format; what the format needs is made ready once. */
export function lineReader(format: LineFormat): (text: string) => readonly LineField[] {
  const { decimal } = format;
  if (format.grammar === 'generic') return (text) => readLine(text, decimal);
  const pattern = preparePattern(format.pattern);
  if (!pattern.ok) throw new Error(`A pattern that was not checked: ${pattern.why}`);
  return (text) => readByPattern(pattern, text, decimal);
}
