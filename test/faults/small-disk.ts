import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A disk of its own for one test's data, with a ballast that fills it. */
export interface SmallDisk {
  readonly path: string;
  /** Takes every byte that is left. */
  fill(): void;
  makeRoom(): void;
  remove(): void;
}

function must(command: string, ...args: string[]): void {
  const { status, stderr, error } = spawnSync(command, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${command} ${args.join(' ')}: ${error?.message ?? stderr}`);
}

/** Whether this user may put a disk of their own into the tree. */
export const canMount = (): boolean => process.platform === 'linux' && process.getuid?.() === 0;

/** Mounts a disk of `megabytes` in memory. Only root may. */
export function mountSmallDisk(megabytes: number): SmallDisk {
  const path = mkdtempSync(join(tmpdir(), 'turnwright-disk-'));
  must('mount', '-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', path);
  const ballast = join(path, 'ballast');
  return {
    path,
    fill: () => {
      // The program writes at the same time: whoever comes first takes the last byte.
      const file = openSync(ballast, 'a');
      const piece = Buffer.alloc(4096);
      try {
        for (;;) writeSync(file, piece);
      } catch (error) {
        if (!(error instanceof Error && 'code' in error && error.code === 'ENOSPC')) throw error;
      } finally {
        closeSync(file);
      }
    },
    makeRoom: () => {
      rmSync(ballast);
    },
    remove: () => {
      must('umount', path);
      rmSync(path, { recursive: true });
    },
  };
}
