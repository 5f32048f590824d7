import type { GuardedLine, LineGuard } from '../../../src-shared/meter/line-guard.ts';

/** Text as the bytes of Latin-1: one byte a character. */
export const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (char) => char.charCodeAt(0));

/** The lines that passed, as Latin-1 text. */
export const passed = (out: readonly GuardedLine[]): string[] =>
  out.flatMap((line) => (line.kind === 'line' ? [String.fromCharCode(...line.bytes)] : []));

/** Pushes the bytes cut at the given places. */
export function pushCut(guard: LineGuard, bytes: Uint8Array, cuts: readonly number[]): GuardedLine[] {
  const places = [0, ...cuts.map((cut) => cut % (bytes.length + 1)).sort((a, b) => a - b), bytes.length];
  return places.slice(1).flatMap((to, index) => [...guard.push(bytes.subarray(places[index] ?? 0, to))]);
}
