import Database from 'better-sqlite3';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { goLive, pageOf, type LiveBench } from '../live-bench.ts';
import { dataFolder, startProgram, type Program } from '../program.ts';

/** What one kill in the middle of a run left behind. */
export interface Killed {
  /** How long readings had been accepted when the kill came, in ms; longer until there was a reading for every 10 ms. */
  readonly afterMs: number;
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
const acceptedWithinMs = 60_000;

/** Resolves once the program has logged more than so many readings as accepted: how fast is the machine's affair. */
async function moreAccepted(acceptLog: string, than: number): Promise<void> {
  const byMs = performance.now() + acceptedWithinMs;
  while (!existsSync(acceptLog) || readLog(acceptLog).accepted <= than) {
    if (performance.now() > byMs) throw new Error(`No more than ${than} readings were accepted.`);
    await setTimeout(5);
  }
}

/** Streams two meters at `readingsPerSecond` together; gives how to stop them. */
function stream({ primary, coil }: LiveBench, readingsPerSecond: number): () => void {
  const everyMs = 10;
  const lines = Math.max(1, Math.round((readingsPerSecond * everyMs) / 2000));
  const streaming = setInterval(() => {
    void primary.write('118.6 V\r\n'.repeat(lines));
    void coil.write('+9.870E+00 VAC\r\n'.repeat(lines));
  }, everyMs);
  return () => {
    clearInterval(streaming);
  };
}

/** Numbers of the readings that the log calls accepted, and of those among them that had to be written by its end. */
function readLog(acceptLog: string): { readonly accepted: number; readonly due: readonly number[] } {
  const accepted = readFileSync(acceptLog, 'utf8')
    .split('\n')
    .slice(0, -1)
    .map((line) => line.split(' ').map(Number));
  const lastMs = accepted.at(-1)?.[1] ?? 0;
  const due = accepted.flatMap(([id, atMs]) =>
    id !== undefined && atMs !== undefined && atMs < lastMs - lostAtMost ? [id] : [],
  );
  return { accepted: accepted.length, due };
}

/** What lies in the file of the record, asked beside the program. */
function lookAt(folder: string, runId: number): { readonly there: ReadonlySet<number>; readonly integrity: unknown } {
  const file = new Database(join(folder, 'record.sqlite'), { readonly: true });
  const rows = file.prepare<[number], number>('SELECT reading_id FROM reading WHERE run_id = ?').pluck().all(runId);
  const integrity = file.pragma('integrity_check', { simple: true });
  file.close();
  return { there: new Set(rows), integrity };
}

/**
 * Starts the program, goes live, streams two meters and kills the process after each of `momentsMs` of accepted readings
 * with no warning; every further start is on the record that the kill left, says what became of the run, and goes on to
 * the next kill.
 * @param momentsMs - times since the first accepted reading, in ms; a slow machine is given longer, until it has accepted a
 * reading for every 10 of them
 */
export async function killInRuns(momentsMs: readonly number[], readingsPerSecond: number): Promise<readonly Killed[]> {
  const folder = dataFolder();
  const logOf = (kill: number) => join(folder.path, `accepted-${kill}.log`);
  const start = (kill: number): Promise<Program> =>
    startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_ACCEPT_LOG: logOf(kill) } });
  const killed: Killed[] = [];
  let program = await start(0);
  try {
    for (const [kill, afterMs] of momentsMs.entries()) {
      const bench = await goLive(program);
      const quiet = stream(bench, readingsPerSecond);
      await moreAccepted(logOf(kill), 0);
      await setTimeout(afterMs);
      await moreAccepted(logOf(kill), afterMs / 10);
      await program.kill();
      quiet();
      await bench.close();

      program = await start(kill + 1);
      const { client, ask } = await pageOf(program);
      const { guard } = await ask('app.present', {});
      const { run } = await ask('run.get', { runId: bench.runId });
      await ask('session.end', {});
      await client.close();
      const { accepted, due } = readLog(logOf(kill));
      const { there, integrity } = lookAt(folder.path, bench.runId);
      killed.push({
        afterMs,
        accepted,
        missing: due.filter((id) => !there.has(id)),
        integrity,
        ending: run.ending,
        guard: { kind: guard.state.kind, why: guard.state.why },
      });
    }
    return killed;
  } finally {
    await program.stop();
    folder.remove();
  }
}
