import { isClean, shown } from './clean-text.ts';
import type { Encoding } from './line-format.ts';

/** Why bytes never became a line. */
export type DropReason = 'too-long' | 'unprintable' | 'partial';

/** A whole clean line without its end, or what was dropped instead: its first bytes, made visible. */
export type GuardedLine =
  | { readonly kind: 'line'; readonly bytes: Uint8Array }
  | { readonly kind: 'dropped'; readonly why: DropReason; readonly text: string };

export interface GuardCounts {
  readonly lines: number;
  readonly tooLong: number;
  readonly unprintable: number;
  readonly partial: number;
}

export interface LineGuardOptions {
  readonly encoding: Encoding;
  /** True when the meter was already sending: the first line may be half a line, and is dropped. */
  readonly joinsMidLine: boolean;
  /** Longest line passed on, in bytes. */
  readonly longest?: number;
}

export interface LineGuard {
  /** Takes the next bytes; gives the lines that ended in them and what was dropped, in order. */
  push(bytes: Uint8Array): readonly GuardedLine[];
  /** Nothing more comes: an unfinished line is dropped as partial, never passed on. */
  end(): readonly GuardedLine[];
  counts(): GuardCounts;
}

const LF = 0x0a;
const CR = 0x0d;
/** Longer than any line of a bench meter, shorter than a screen. */
const longestLine = 256;
const bytesShown = 48;

/**
 * The one door for bytes from a port. Lines end with LF, CR or CR LF; empty lines are nothing. It keeps at most
 * `longest` bytes whatever arrives, works once on each byte, and never passes on a line that it has not seen whole:
 * not the one it joined in the middle of, not one that was cut at the cap, not the last one of a lost port.
 */
export function createLineGuard(options: LineGuardOptions): LineGuard {
  const held = new Uint8Array(options.longest ?? longestLine);
  const counts = { lines: 0, tooLong: 0, unprintable: 0, partial: 0 };
  let length = 0;
  let joining = options.joinsMidLine;
  let skipping = false;

  const drop = (counter: 'tooLong' | 'unprintable' | 'partial', why: DropReason): GuardedLine => {
    counts[counter] += 1;
    return { kind: 'dropped', why, text: shown(held.subarray(0, Math.min(length, bytesShown))) };
  };

  const close = (): GuardedLine | undefined => {
    const wasSkipping = skipping;
    const wasJoining = joining;
    skipping = false;
    joining = false;
    if (wasSkipping || length === 0) return undefined;
    if (wasJoining) return drop('partial', 'partial');
    const bytes = held.slice(0, length);
    if (!isClean(bytes, options.encoding)) return drop('unprintable', 'unprintable');
    counts.lines += 1;
    return { kind: 'line', bytes };
  };

  return {
    push(bytes) {
      const out: GuardedLine[] = [];
      for (const byte of bytes) {
        if (byte === LF || byte === CR) {
          const line = close();
          if (line !== undefined) out.push(line);
          length = 0;
        } else if (!skipping && length < held.length) {
          held[length] = byte;
          length += 1;
        } else if (!skipping) {
          out.push(drop('tooLong', 'too-long'));
          skipping = true;
        }
      }
      return out;
    },
    end() {
      const unfinished = length > 0 && !skipping ? [drop('partial', 'partial')] : [];
      length = 0;
      skipping = false;
      return unfinished;
    },
    counts: () => ({ ...counts }),
  };
}
