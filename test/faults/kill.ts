import Database from 'better-sqlite3';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { goLive, pageOf } from '../live-bench.ts';
import { dataFolder, startProgram } from '../program.ts';

/** What one kill in the middle of a run left behind. */
export interface Killed {
  /** Readings that the program logged as accepted before it was killed. */
  readonly accepted: number;
  /** Numbers of those accepted more than 250 ms before the last of them that are not in the record. */
  readonly missing: readonly number[];
  readonly integrity: unknown;
  /** What the next start said of the run and of the guard. */
  readonly ending: string;
  readonly guard: { readonly kind: string; readonly why: unknown };
}

const lostAtMost = 250;

/**
 * Starts the program, goes live, streams two meters at `readingsPerSecond` together, and kills the process after
 * `afterMs` with no warning. Then looks at the file as it lies there, and at what the next start makes of it.
 */
export async function killInARun(afterMs: number, readingsPerSecond: number): Promise<Killed> {
  const folder = dataFolder();
  const acceptLog = join(folder.path, 'accepted.log');
  try {
    const program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_ACCEPT_LOG: acceptLog } });
    const bench = await goLive(program);
    const everyMs = 10;
    const lines = Math.max(1, Math.round((readingsPerSecond * everyMs) / 2000));
    const streaming = setInterval(() => {
      void bench.primary.write('118.6 V\r\n'.repeat(lines));
      void bench.coil.write('+9.870E+00 VAC\r\n'.repeat(lines));
    }, everyMs);
    await setTimeout(afterMs);
    await program.kill();
    clearInterval(streaming);
    await bench.close();

    const accepted = readFileSync(acceptLog, 'utf8')
      .split('\n')
      .slice(0, -1)
      .map((line) => line.split(' ').map(Number));
    const lastMs = accepted.at(-1)?.[1] ?? 0;
    const due = accepted.flatMap(([id, atMs]) =>
      id !== undefined && atMs !== undefined && atMs < lastMs - lostAtMost ? [id] : [],
    );

    const again = await startProgram({ dataFolder: folder.path });
    const { ask } = await pageOf(again);
    const { guard } = await ask('app.present', {});
    const { run } = await ask('run.get', { runId: bench.runId });
    await again.stop();

    const file = new Database(join(folder.path, 'record.sqlite'), { readonly: true });
    const there = new Set(file.prepare('SELECT reading_id FROM reading').pluck().all() as number[]);
    const integrity = file.pragma('integrity_check', { simple: true });
    file.close();
    return {
      accepted: accepted.length,
      missing: due.filter((id) => !there.has(id)),
      integrity,
      ending: run.ending,
      guard: { kind: guard.state.kind, why: guard.state.why },
    };
  } finally {
    folder.remove();
  }
}
