import { ReadlineParser } from '@serialport/parser-readline';
import type { Encoding } from '../../src-shared/meter/line-format.ts';
import {
  createLineGuard,
  type DropReason,
  type GuardCounts,
  type GuardedLine,
} from '../../src-shared/meter/line-guard.ts';

export interface LineChainOptions {
  readonly encoding: Encoding;
  readonly joinsMidLine: boolean;
  readonly onLine: (text: string) => void;
  readonly onDropped: (why: DropReason, text: string) => void;
}

export interface LineChain {
  push(bytes: Uint8Array): void;
  /** Nothing more comes from this connection. */
  end(): void;
  counts(): GuardCounts;
}

const nodeEncoding = { ascii: 'latin1', 'latin-1': 'latin1', 'utf-8': 'utf8' } as const satisfies Record<
  Encoding,
  BufferEncoding
>;

const lineEnd = Buffer.from('\n');

/**
 * Bytes of one connection to lines of text. The guard stands before the line parser, which by itself would keep any
 * amount without a line end and hand on half a line at the end. Made anew for each connection, so nothing of a lost one
 * is read with the next.
 */
export function createLineChain(options: LineChainOptions): LineChain {
  const guard = createLineGuard(options);
  const parser = new ReadlineParser({ delimiter: '\n', encoding: nodeEncoding[options.encoding] });
  parser.on('data', (text: string) => {
    options.onLine(text);
  });
  /** Lines that follow each other are handed to the parser together; what was dropped between them keeps its place. */
  const pass = (lines: readonly GuardedLine[]) => {
    let together: Uint8Array[] = [];
    const hand = () => {
      if (together.length > 0) parser.write(Buffer.concat(together));
      together = [];
    };
    for (const line of lines) {
      if (line.kind === 'line') {
        together.push(line.bytes, lineEnd);
      } else {
        hand();
        options.onDropped(line.why, line.text);
      }
    }
    hand();
  };
  return {
    push(bytes) {
      pass(guard.push(bytes));
    },
    end() {
      pass(guard.end());
      parser.end();
    },
    counts: () => guard.counts(),
  };
}
