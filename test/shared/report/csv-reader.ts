/**
 * A small reader of comma-separated values, written from the grammar of RFC 4180 (Y. Shafranovich, Common Format and
 * MIME Type for Comma-Separated Values, 2005, section 2) and sharing nothing with the writer. Throws on what the
 * grammar does not allow: a quote in a bare field, text after a closing quote, a line end other than CR LF.
 */
export function readCsv(text: string): readonly (readonly string[])[] {
  const records: string[][] = [];
  let record: string[] = [];
  let at = 0;
  const field = (): string => {
    let out = '';
    if (text[at] !== '"') {
      while (at < text.length && text[at] !== ',' && text[at] !== '\r') {
        if (text[at] === '"' || text[at] === '\n') throw new Error(`Bare field holds ${JSON.stringify(text[at])}`);
        out += text[at++];
      }
      return out;
    }
    for (at += 1; ; at += 1) {
      if (at >= text.length) throw new Error('Quote not closed');
      if (text[at] === '"') {
        if (text[at + 1] !== '"') break;
        at += 1;
      }
      out += text[at];
    }
    at += 1;
    return out;
  };
  while (at < text.length) {
    record.push(field());
    if (text[at] === ',') {
      at += 1;
      continue;
    }
    if (text.slice(at, at + 2) !== '\r\n')
      throw new Error(`Record ends with ${JSON.stringify(text.slice(at, at + 2))}`);
    at += 2;
    records.push(record);
    record = [];
  }
  return records;
}
