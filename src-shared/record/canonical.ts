/**
 * JSON with the keys of every object in the order of their code units and no spaces, so that equal values give equal
 * text. Keys whose value is undefined are left out, as JSON does. Null when the value holds a number that is not finite
 * or anything that JSON cannot say.
 */
export function canonicalJson(value: unknown): string | null {
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return JSON.stringify(value);
    case 'number':
      return Number.isFinite(value) ? JSON.stringify(value) : null;
    case 'object':
      if (value === null) return 'null';
      return Array.isArray(value) ? canonicalArray(value) : canonicalObject(value);
    case 'undefined':
    case 'bigint':
    case 'symbol':
    case 'function':
      return null;
  }
}

function canonicalArray(values: readonly unknown[]): string | null {
  const texts = values.map(canonicalJson);
  return texts.includes(null) ? null : `[${texts.join(',')}]`;
}

function canonicalObject(value: object): string | null {
  const texts: string[] = [];
  const entries = Object.entries(value).filter(([, part]) => part !== undefined);
  for (const [key, part] of entries.sort(([a], [b]) => (a < b ? -1 : 1))) {
    const text = canonicalJson(part);
    if (text === null) return null;
    texts.push(`${JSON.stringify(key)}:${text}`);
  }
  return `{${texts.join(',')}}`;
}
