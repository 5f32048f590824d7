import type { CoreFields } from '../../../src-shared/record/core.ts';

/** Text without accents and case, for comparing. */
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/** Whether every word that was typed stands somewhere in what is said of the core. */
export function isFound(fields: CoreFields, typed: string): boolean {
  const said = plain([fields.label, fields.origin ?? '', fields.note ?? ''].join(' '));
  return plain(typed)
    .split(/\s+/)
    .every((word) => said.includes(word));
}
