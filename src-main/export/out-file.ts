import { closeSync, openSync, rmSync, writeSync } from 'node:fs';

/** Takes text for a file. */
export type Write = (text: string) => void;

const chunkLength = 262_144;

/** All of the bytes: the system may take fewer at once. */
function writeAll(descriptor: number, bytes: Buffer): void {
  for (let from = 0; from < bytes.length;) from += writeSync(descriptor, bytes, from);
}

/**
 * Makes a file of what `work` writes, in pieces, so that its size costs no memory. Returns its bytes. When anything is
 * thrown there is no file, and it is thrown on; a file that is there already is not touched (`EEXIST`).
 */
export function writeFileInPieces(path: string, work: (write: Write) => void): number {
  const descriptor = openSync(path, 'wx', 0o600);
  let waiting: string[] = [];
  let length = 0;
  let bytes = 0;
  const flush = () => {
    const piece = Buffer.from(waiting.join(''), 'utf8');
    waiting = [];
    length = 0;
    bytes += piece.length;
    writeAll(descriptor, piece);
  };
  try {
    work((text) => {
      waiting.push(text);
      length += text.length;
      if (length >= chunkLength) flush();
    });
    flush();
  } catch (error) {
    closeSync(descriptor);
    rmSync(path, { force: true });
    throw error;
  }
  try {
    // Some disks say only now that they are full.
    closeSync(descriptor);
  } catch (error) {
    rmSync(path, { force: true });
    throw error;
  }
  return bytes;
}
