import { appendFileSync, renameSync, statSync } from 'node:fs';

const longest = 1_048_576;

function sizeOf(file: string): number {
  try {
    return statSync(file).size;
  } catch {
    return 0;
  }
}

/**
 * A log of lines with their time. Above a mebibyte the file becomes `.old`, in place of the one before. What cannot be
 * written is lost: a log must not stop the program.
 */
export function logTo(file: string, wallMs: () => number): (line: string) => void {
  return (line) => {
    try {
      if (sizeOf(file) > longest) renameSync(file, `${file}.old`);
      appendFileSync(file, `${new Date(wallMs()).toISOString()} ${line}\n`);
    } catch {
      // The disk is full or gone; that is said elsewhere.
    }
  };
}
