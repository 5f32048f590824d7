/** What was pasted from a spreadsheet or a file of values: rows of cells, and whether a line of headings was left out. */
export interface PastedTable {
  readonly rows: readonly (readonly string[])[];
  readonly hadHeadings: boolean;
}

/**
 * Splits pasted text into rows of cells: by tabs, else by semicolons, else by commas where they cannot be decimal marks
 * (more than one a line, one followed by a space, or a point beside it). A first line without any figure under which
 * figures follow is a line of headings. Null when it is one cell alone, to be pasted as any text.
 */
export function readPasted(text: string): PastedTable | null {
  const lines = text
    .replace(/\r\n?/g, '\n')
    .split('\n')
    .filter((line) => line.trim() !== '');
  const separator = separatorOf(lines);
  const rows = lines.map((line) =>
    (separator === null ? [line] : line.split(separator)).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1')),
  );
  const [first, ...rest] = rows;
  if (first === undefined || (rest.length === 0 && first.length === 1)) return null;
  const hadHeadings = rest.length > 0 && !first.some(hasFigure) && rest.some((row) => row.some(hasFigure));
  return { rows: hadHeadings ? rest : rows, hadHeadings };
}

const hasFigure = (cell: string): boolean => /^[+\-−–]?[.,]?\d/.test(cell);

function separatorOf(lines: readonly string[]): string | null {
  if (lines.some((line) => line.includes('\t'))) return '\t';
  if (lines.some((line) => line.includes(';'))) return ';';
  const hasCommas = lines.every((line) => line.includes(','));
  const cannotBeDecimal = lines.some((line) => /,\s|,.*,|\..*,|,.*\./.test(line) || /[^\d\s.,+\-−–eE].*,/.test(line));
  return hasCommas && cannotBeDecimal ? ',' : null;
}
