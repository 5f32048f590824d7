import * as v from 'valibot';
import { amount, count, ofObject } from './field.ts';
import type { Encoding } from './line-format.ts';

const longestSample = 200;
const longestLine = 256;

/** Lines of a meter as they once came, kept with its description so that they can be read again without it. */
export const Sample = v.strictObject(
  {
    /** When they were taken, by the wall clock. */
    wallMs: amount('Time of the sample', 0, 1e14),
    lines: v.pipe(
      v.array(
        v.strictObject(
          {
            /** How long after the first one it came. */
            afterMs: count('Time of a line', 0, 3_600_000, 'ms'),
            text: v.pipe(
              v.string('A line of the sample must be text.'),
              v.maxLength(longestLine, `A line of the sample: at most ${longestLine} characters.`),
            ),
          },
          ofObject('Line of the sample'),
        ),
        'The sample must be a list of lines.',
      ),
      v.minLength(1, 'A sample has at least one line.'),
      v.maxLength(longestSample, `A sample has at most ${longestSample} lines.`),
    ),
  },
  ofObject('Sample'),
);
export type Sample = v.InferOutput<typeof Sample>;

/** The sample that lines heard at such times amount to, oldest first; the last ones when there are too many. */
export function sampleOf(heard: readonly { readonly atMs: number; readonly text: string }[], wallMs: number): Sample {
  const kept = heard.slice(-longestSample);
  const firstMs = kept[0]?.atMs ?? 0;
  const lines = kept.map(({ atMs, text }) => ({
    afterMs: Math.max(0, Math.round(atMs - firstMs)),
    text: text.slice(0, longestLine),
  }));
  return { wallMs, lines };
}

/** Bytes of a text in the encoding that it was read in. A character that has none there becomes a question mark. */
function bytesOf(text: string, encoding: Encoding): Uint8Array {
  if (encoding === 'utf-8') {
    const escaped = encodeURIComponent(text);
    return Uint8Array.from(escaped.match(/%[\dA-F]{2}|[^%]/g) ?? [], (one) =>
      one.length === 3 ? Number.parseInt(one.slice(1), 16) : one.charCodeAt(0),
    );
  }
  return Uint8Array.from(Array.from(text), (char) => {
    const code = char.charCodeAt(0);
    return code < 256 ? code : 0x3f;
  });
}

/** A sample as the pieces that a port once gave, a line end before the first so that it is read whole. */
export const playedBack = (
  { lines }: Sample,
  encoding: Encoding,
): readonly { readonly afterMs: number; readonly bytes: Uint8Array }[] => [
  { afterMs: 0, bytes: bytesOf('\r\n', encoding) },
  ...lines.map(({ afterMs, text }) => ({ afterMs, bytes: bytesOf(`${text}\r\n`, encoding) })),
];
