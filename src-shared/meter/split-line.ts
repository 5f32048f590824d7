import type { DecimalMark } from './decimal-mark.ts';

export interface Piece {
  readonly text: string;
  readonly column: number;
}

export type Split =
  | { readonly kind: 'pieces'; readonly pieces: readonly Piece[] }
  | { readonly kind: 'no'; readonly why: 'comma'; readonly at: number };

const isDigit = (char: string | undefined): boolean => char !== undefined && char >= '0' && char <= '9';

/**
 * What a comma is, with a decimal point: between two digits it could be a decimal comma, part thousands or part values,
 * unless the number before it has had its point or exponent already.
 */
function commaIs(before: string, next: string | undefined): 'separator' | 'unclear' {
  if (!isDigit(before.at(-1)) || !isDigit(next)) return 'separator';
  return /[.eE]/.test(/[\d.eE+-]*$/.exec(before)?.[0] ?? '') ? 'separator' : 'unclear';
}

/**
 * Parts a line at semicolons, tabs and (with a decimal point) commas. A separator at the end parts nothing. Refused
 * when a comma could be something else.
 */
export function splitLine(text: string, decimal: DecimalMark): Split {
  const pieces: Piece[] = [];
  let column = 0;
  for (let at = 0; at < text.length; at += 1) {
    const char = text[at];
    if (char !== ';' && char !== '\t' && (char !== ',' || decimal === 'comma')) continue;
    const piece = text.slice(column, at);
    if (char === ',' && commaIs(piece, text[at + 1]) === 'unclear') return { kind: 'no', why: 'comma', at };
    pieces.push({ text: piece, column });
    column = at + 1;
  }
  const last = text.slice(column);
  if (pieces.length === 0 || last.trim() !== '') pieces.push({ text: last, column });
  return { kind: 'pieces', pieces };
}
