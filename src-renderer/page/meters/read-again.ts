import { valuesOf } from '../../../src-shared/meter/channel-reading.ts';
import type { SerialMeter } from '../../../src-shared/meter/description.ts';
import { heardInWords } from '../../../src-shared/meter/heard-line.ts';
import { lineReader } from '../../../src-shared/meter/line-reader.ts';

/** How a line is read, in words, and whether any value on it is one. */
interface ReadAgain {
  readonly sentence: string;
  readonly kind: 'read' | 'not-read';
}

/**
 * Reads lines by a description as it stands at this moment, so that a pattern can be tried on what was just heard. The
 * time for one line is bounded by the pattern engine, which never goes back over it.
 */
export function readAgain(meter: SerialMeter): (text: string) => ReadAgain {
  const fieldsOf = lineReader(meter.format);
  return (text) => {
    const values = valuesOf(text, fieldsOf(text), meter);
    return {
      sentence: heardInWords({ kind: 'read', atMs: 0, text, values }),
      kind: values.some(({ value }) => value.kind !== 'unreadable') ? 'read' : 'not-read',
    };
  };
}
