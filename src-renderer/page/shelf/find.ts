import type { CoreFields } from '../../../src-shared/record/core.ts';
import { plainText } from '../../part/plain-text.ts';

/** Whether every word that was typed stands somewhere in what is said of the core. */
export function isFound(fields: CoreFields, typed: string): boolean {
  const said = plainText([fields.label, fields.origin ?? '', fields.note ?? ''].join(' '));
  return plainText(typed)
    .split(/\s+/)
    .every((word) => said.includes(word));
}
