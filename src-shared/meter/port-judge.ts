import { createLineGuard } from './line-guard.ts';
import { encodings, type Encoding } from './line-format.ts';
import { decimalMarks, type DecimalMark } from './decimal-mark.ts';
import { readLine } from './line-grammar.ts';
import type { PortSettings } from './port-settings.ts';

/** How sure it is that the port is set as the meter sends. */
export const surenesses = ['nothing', 'unclear', 'likely', 'sure'] as const;
export type Sureness = (typeof surenesses)[number];

/** What bytes from a port at some rate look like. */
export interface Hearing {
  readonly sureness: Sureness;
  readonly bytes: number;
  /** Whole clean lines, and those of them with a value that was read. */
  readonly lines: number;
  readonly readable: number;
  /** Lines that were no text. */
  readonly garbled: number;
  readonly framing: Pick<PortSettings, 'dataBits' | 'parity'>;
  readonly encoding: Encoding;
  readonly decimal: DecimalMark;
  /** The last lines as text. */
  readonly sample: readonly string[];
}

type Framing = Hearing['framing'];

const plain: Framing = { dataBits: 8, parity: 'none' };
const linesToBeSure = 3;
const linesShown = 5;
/** Bits of a byte that are set. */
const weight = (byte: number): number => byte.toString(2).replaceAll('0', '').length;

const parityOf: Readonly<Record<'even' | 'odd' | 'mark', (byte: number) => boolean>> = {
  even: (byte) => weight(byte) % 2 === 0,
  odd: (byte) => weight(byte) % 2 === 1,
  mark: (byte) => byte >= 0x80,
};

const isAsciiText = (byte: number): boolean =>
  (byte >= 0x20 && byte <= 0x7e) || byte === 9 || byte === 10 || byte === 13;

/** Seven data bits and a parity bit, read as eight bits: text below the top bit, and one parity fits every byte. */
function sevenBits(bytes: Uint8Array): Framing | null {
  const hasTopBits = bytes.some((byte) => byte >= 0x80);
  if (!hasTopBits || !bytes.every((byte) => isAsciiText(byte & 0x7f))) return null;
  const parity = (['even', 'odd', 'mark'] as const).find((name) => bytes.every(parityOf[name]));
  return parity === undefined ? null : { dataBits: 7, parity };
}

const decode = (bytes: Uint8Array, encoding: Encoding): string => {
  const latin = String.fromCharCode(...bytes);
  if (encoding !== 'utf-8') return latin;
  return decodeURIComponent(Array.from(bytes, (byte) => `%${byte.toString(16).padStart(2, '0')}`).join(''));
};

const isReadable = (text: string, decimal: DecimalMark): boolean =>
  readLine(text, decimal).some(({ value }) => value.kind !== 'unreadable' || value.why === 'dashes');

type Reading = Pick<Hearing, 'lines' | 'readable' | 'garbled' | 'encoding' | 'decimal' | 'sample'>;

function readAs(bytes: Uint8Array, encoding: Encoding, decimal: DecimalMark): Reading {
  const guard = createLineGuard({ encoding, joinsMidLine: true });
  const texts = guard.push(bytes).flatMap((line) => (line.kind === 'line' ? [decode(line.bytes, encoding)] : []));
  const { unprintable, tooLong } = guard.counts();
  const readable = texts.filter((text) => isReadable(text, decimal)).length;
  const sample = texts.slice(-linesShown);
  return { lines: texts.length, readable, garbled: unprintable + tooLong, encoding, decimal, sample };
}

function surenessOf({ lines, readable, garbled }: Reading, bytes: number): Sureness {
  if (bytes === 0) return 'nothing';
  const isClean = garbled <= lines / 10;
  if (readable >= linesToBeSure && readable >= 0.8 * lines && isClean) return 'sure';
  return isClean && lines > 0 && (readable > 0 || lines >= linesToBeSure) ? 'likely' : 'unclear';
}

/**
 * Judges bytes that were received with eight data bits and no parity: whether they are a meter's lines, and how those
 * are framed, encoded and marked. Of equal readings the plainest is taken: ASCII before Latin-1 and UTF-8, point before
 * comma.
 */
export function judgeBytes(received: Uint8Array): Hearing {
  const framing = sevenBits(received) ?? plain;
  const bytes = framing.dataBits === 7 ? received.map((byte) => byte & 0x7f) : received;
  const readings = encodings.flatMap((encoding) => decimalMarks.map((decimal) => readAs(bytes, encoding, decimal)));
  const best = readings.reduce((one, other) => {
    const gain = other.readable - one.readable || other.lines - one.lines;
    return gain > 0 ? other : one;
  });
  return { ...best, framing, bytes: received.length, sureness: surenessOf(best, received.length) };
}

/** True when the first hearing is a better sign of the right setting than the second. */
export function isBetter(one: Hearing, other: Hearing): boolean {
  const step = surenesses.indexOf(one.sureness) - surenesses.indexOf(other.sureness);
  if (step !== 0) return step > 0;
  if (one.readable !== other.readable) return one.readable > other.readable;
  return one.lines - one.garbled > other.lines - other.garbled;
}

/** True when enough came to know that this is not it: not one clean line among many bytes. */
export const isHopeless = (hearing: Hearing): boolean => hearing.bytes >= 200 && hearing.lines === 0;

/** What was heard, as a sentence for the person. */
export function hearingInWords(hearing: Hearing, baudRate: number): string {
  const { dataBits, parity } = hearing.framing;
  const setting = `${baudRate} baud, ${dataBits} data bits, ${parity === 'none' ? 'no parity' : `${parity} parity`}`;
  switch (hearing.sureness) {
    case 'sure':
      return `${setting}: ${hearing.lines} whole lines, and their values can be read.`;
    case 'likely':
      return hearing.readable > 0
        ? `${setting}: probably. Few lines came so far.`
        : `${setting}: probably. It is text, but a pattern is needed to read its values.`;
    case 'unclear':
      return 'Something arrives, but at no usual rate is it text. This meter may not send text at all.';
    case 'nothing':
      return 'Nothing arrives. Is the meter on, and its sending switched on? Some meters send only when they are asked.';
  }
}
