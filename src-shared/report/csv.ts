/** One cell: a number as it is, text made harmless and quoted, nothing. */
export type Cell = string | number | boolean | null;

/**
 * What a table program may take for a formula at the start of a cell, spaces before it included: = + - @ and their full
 * width forms, a tab or a line end. An apostrophe too, so that the one put in front can always be taken off again.
 */
const formulaLike = /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20'\t\r\n]/;

/** Text that no table program runs: an apostrophe stands in front of what looks like a formula. */
export const harmless = (text: string): string => (formulaLike.test(text) ? `'${text}` : text);

/** The text that `harmless` was given. */
export const unharmed = (text: string): string => (text.startsWith("'") ? text.slice(1) : text);

/** One cell as it stands in a record. */
export function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  return `"${harmless(cell.toWellFormed()).replaceAll('"', '""')}"`;
}

/** One record of RFC 4180, its line end (CR LF) included. Text is always quoted; numbers have a point. */
export const csvLine = (cells: readonly Cell[]): string => `${cells.map(csvCell).join(',')}\r\n`;
