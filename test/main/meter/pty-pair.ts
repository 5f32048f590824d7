import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, constants, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { ReadStream } from 'node:tty';

/** A pair of joined pseudo terminals: what is written at one end is read at the other, as on a serial lead. */
export interface PtyPair {
  /** Where the meter sits. */
  readonly meterEnd: string;
  /** The port that the program opens. */
  readonly programEnd: string;
  /** The process that joins them; ending it is pulling the lead. */
  readonly pid: number;
  /** Sends bytes from the meter; resolves when the system took them all. */
  write(bytes: Uint8Array | string): Promise<void>;
  /** Hears what the program sends to the meter. */
  onSent(act: (bytes: Uint8Array) => void): void;
  /** Pulls the lead; the folder stays, so that another pair can come back at the same paths. */
  pull(): Promise<void>;
  /** Ends everything and removes the folder. */
  close(): Promise<void>;
}

const codeOf = (thrown: unknown): string =>
  typeof thrown === 'object' && thrown !== null && 'code' in thrown ? String(thrown.code) : '';

async function started(child: ReturnType<typeof spawn>): Promise<void> {
  let said = '';
  await new Promise<void>((resolve, reject) => {
    child.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      if (said.includes('starting data transfer loop')) resolve();
    });
    child.once('error', reject);
    child.once('exit', () => {
      reject(new Error(`socat ended: ${said}`));
    });
  });
}

/** Joins two pseudo terminals with socat. `folder` is given to bring a pair back at the paths of an earlier one. */
export async function openPtyPair(folder = mkdtempSync(join(tmpdir(), 'turnwright-pty-'))): Promise<PtyPair> {
  const meterEnd = join(folder, 'meter');
  const programEnd = join(folder, 'program');
  const end = (link: string) => `pty,raw,echo=0,link=${link}`;
  const child = spawn('socat', ['-d', '-d', end(meterEnd), end(programEnd)], { stdio: ['ignore', 'ignore', 'pipe'] });
  const endWithUs = () => child.kill('SIGKILL');
  process.once('exit', endWithUs);
  await started(child);
  const flags = constants.O_RDWR | constants.O_NOCTTY | constants.O_NONBLOCK;
  const writing = openSync(meterEnd, flags);
  let ear: ReadStream | undefined;
  let isPulled = false;

  const pull = async (): Promise<void> => {
    if (isPulled) return;
    isPulled = true;
    process.off('exit', endWithUs);
    ear?.destroy();
    closeSync(writing);
    if (child.exitCode === null && child.signalCode === null) {
      const ended = once(child, 'exit');
      child.kill('SIGTERM');
      await ended;
    }
    // A link left behind by a process that was killed would soon lead to the terminal of somebody else.
    for (const link of [meterEnd, programEnd]) rmSync(link, { force: true });
  };

  return {
    meterEnd,
    programEnd,
    pid: child.pid ?? -1,
    write: async (bytes) => {
      const all = typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes;
      for (let sent = 0; sent < all.length;) {
        try {
          sent += writeSync(writing, all, sent, Math.min(65_536, all.length - sent));
        } catch (thrown) {
          if (codeOf(thrown) !== 'EAGAIN') throw thrown;
          await setImmediate();
        }
      }
    },
    onSent: (act) => {
      ear = new ReadStream(openSync(meterEnd, flags));
      ear.on('error', () => undefined);
      ear.on('data', act);
    },
    pull,
    close: async () => {
      await pull();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
