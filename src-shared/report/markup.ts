/** Text that may stand in a page as it is. Only `markup` makes it, so nothing unescaped gets in. */
export class Markup {
  readonly #text: string;

  constructor(parts: TemplateStringsArray, pieces: readonly MarkupPiece[]) {
    this.#text = parts.reduce(
      (text, part, index) => text + part + (index < pieces.length ? written(pieces[index]) : ''),
      '',
    );
  }

  toString(): string {
    return this.#text;
  }
}

/** What can be put into markup: text and numbers are escaped, markup stands as it is, null is nothing. */
type MarkupPiece = Markup | string | number | null | readonly Markup[];

const named: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** A half of a pair of code units that stands alone, or a character that no page may hold. */
const unwritable = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]/g;

/** Any text as it may stand between tags or within a quoted attribute; what no page may hold becomes U+FFFD. */
export const escaped = (text: string): string =>
  text
    .toWellFormed()
    .replace(unwritable, '\ufffd')
    .replace(/[&<>"']/g, (character) => named[character] ?? character);

function written(piece: MarkupPiece | undefined): string {
  if (piece === null || piece === undefined) return '';
  if (piece instanceof Markup) return piece.toString();
  if (typeof piece === 'string') return escaped(piece);
  if (typeof piece === 'number') return escaped(String(piece));
  return piece.map(String).join('');
}

/** Markup by a template: everything put into it is escaped, unless it is markup itself. Attributes stand in quotes. */
export const markup = (parts: TemplateStringsArray, ...pieces: readonly MarkupPiece[]): Markup =>
  new Markup(parts, pieces);
