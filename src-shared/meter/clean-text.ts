import { assertNever } from '../quantity/assert-never.ts';
import type { Encoding } from './line-format.ts';

const isPrintableAscii = (byte: number): boolean => (byte >= 0x20 && byte <= 0x7e) || byte === 0x09;
/** Latin-1 from the no-break space on; 0x80 to 0x9f are control characters there. */
const isPrintableLatin = (byte: number): boolean => isPrintableAscii(byte) || byte >= 0xa0;

/** Length of the well-formed UTF-8 sequence at `at` (Unicode 16.0, table 3-7), 0 when there is none or it is a control. */
function utf8Length(bytes: Uint8Array, at: number): number {
  const byte = (offset: number): number => bytes[at + offset] ?? 0;
  const follows = (offset: number, lowest = 0x80, highest = 0xbf): boolean =>
    byte(offset) >= lowest && byte(offset) <= highest;
  const first = byte(0);
  if (first < 0x80) return isPrintableAscii(first) ? 1 : 0;
  if (first === 0xc2) return follows(1, 0xa0) ? 2 : 0;
  if (first > 0xc2 && first <= 0xdf) return follows(1) ? 2 : 0;
  if (first >= 0xe0 && first <= 0xef) {
    const lowest = first === 0xe0 ? 0xa0 : 0x80;
    const highest = first === 0xed ? 0x9f : 0xbf;
    return follows(1, lowest, highest) && follows(2) ? 3 : 0;
  }
  if (first >= 0xf0 && first <= 0xf4) {
    const lowest = first === 0xf0 ? 0x90 : 0x80;
    const highest = first === 0xf4 ? 0x8f : 0xbf;
    return follows(1, lowest, highest) && follows(2) && follows(3) ? 4 : 0;
  }
  return 0;
}

function isUtf8(bytes: Uint8Array): boolean {
  for (let at = 0; at < bytes.length;) {
    const length = utf8Length(bytes, at);
    if (length === 0) return false;
    at += length;
  }
  return true;
}

/** True when every byte of the line is a printable character of the encoding, or a tab. */
export function isClean(bytes: Uint8Array, encoding: Encoding): boolean {
  switch (encoding) {
    case 'ascii':
      return bytes.every(isPrintableAscii);
    case 'latin-1':
      return bytes.every(isPrintableLatin);
    case 'utf-8':
      return isUtf8(bytes);
    default:
      return assertNever(encoding);
  }
}

/** Bytes for a person to look at: printable ASCII as it is, everything else as `\xNN`. */
export const shown = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) =>
    byte >= 0x20 && byte <= 0x7e ? String.fromCharCode(byte) : `\\x${byte.toString(16).padStart(2, '0')}`,
  ).join('');
