/** A piece of a formula: plain, raised, or lowered. */
export interface FormulaPart {
  readonly text: string;
  readonly at: 'line' | 'raised' | 'lowered';
}

const mark = /_([\p{L}\d]+)|\^(\([^)]*\)|[−-]?[\p{L}\d.]+)|\[([^\]]+)\]/u;

/** A formula as it would be written by hand: `A_Fe` and `N[0]` with an index below, `10^4` with a power above, `√`. */
export function formulaParts(formula: string): readonly FormulaPart[] {
  const parts: FormulaPart[] = [];
  let rest = formula.replaceAll('sqrt(', '√(');
  for (let found = mark.exec(rest); found !== null; found = mark.exec(rest)) {
    const [whole, lowered, raised, index] = found;
    if (found.index > 0) parts.push({ text: rest.slice(0, found.index), at: 'line' });
    if (raised !== undefined) parts.push({ text: raised.replace(/^\((.*)\)$/, '$1'), at: 'raised' });
    else parts.push({ text: lowered ?? countedFromOne(index ?? ''), at: 'lowered' });
    rest = rest.slice(found.index + whole.length);
  }
  return rest === '' ? parts : [...parts, { text: rest, at: 'line' }];
}

const countedFromOne = (index: string): string => (/^\d+$/.test(index) ? String(Number(index) + 1) : index);
