import Database from 'better-sqlite3';
import { join } from 'node:path';
import { goLive, type LiveBench } from '../live-bench.ts';
import { startProgram, type Program } from '../program.ts';
import { tell } from '../walk.ts';

/** A run of the real program under a stream of readings, for as long as something is done to it. */
export interface Running extends LiveBench {
  readonly program: Program;
  /** Begins to send, at a hundred lines a second on each meter, until `quiet`. */
  stream(): void;
  quiet(): void;
  /** Resolves when so many more readings have been pushed to the page. */
  hear(readings: number): Promise<void>;
  guard(): Promise<string>;
  /** Power off, end of the run and of the program; what is in its file then, and how the run is told. */
  end(): Promise<Ended>;
}

/** What a run is in the end, by its pages and by its file. */
interface Ended {
  readonly ending: string;
  /** Readings that the page was told of while the run was open; those it was too slow for are counted too. */
  readonly pushed: number;
  readonly stored: number;
  readonly integrity: unknown;
  readonly happenings: readonly string[];
  /** The primary's readings as a chart asks for them, in ms since the start of the run. */
  readonly atMs: readonly number[];
}

const everyMs = 10;

/** Starts the program on a folder and goes live. */
export async function startRunning(folder: string, env: NodeJS.ProcessEnv = {}): Promise<Running> {
  const program = await startProgram({ dataFolder: folder, env });
  const bench = await goLive(program);
  const { client, ask, runId } = bench;
  let streaming: NodeJS.Timeout | undefined;
  const pushed = () =>
    client
      .of('readings')
      .flatMap(({ columns }) => columns.map(({ atMs }) => atMs.length))
      .reduce((sum, more) => sum + more, 0) +
    client.of('readings-missed').reduce((sum, { readings }) => sum + readings, 0);

  const quiet = () => {
    clearInterval(streaming);
  };
  return {
    ...bench,
    program,
    stream: () => {
      streaming = setInterval(() => {
        void bench.primary.write('118.6 V\r\n').catch(() => undefined);
        void bench.coil.write('+9.870E+00 VAC\r\n').catch(() => undefined);
      }, everyMs);
    },
    quiet,
    hear: async (readings) => {
      const from = pushed();
      await client.until(() => (pushed() >= from + readings ? true : null), 30_000);
    },
    guard: async () => (await ask('app.present', {})).guard.state.kind,
    end: async () => {
      quiet();
      await tell(ask, { kind: 'power-off' });
      const { ending } = await ask('run.end', { runId });
      const view = { runId, channel: 'primary-volts', fromMs: 0, toMs: 1e9, pixels: 4000 };
      const { atMs } = await ask('run.history', view);
      const { happenings } = await ask('run.facts', { runId });
      await client.close();
      await program.stop();
      await bench.close();
      const file = new Database(join(folder, 'record.sqlite'), { readonly: true });
      const stored = file.prepare<[number], number>('SELECT count(*) FROM reading WHERE run_id = ?').pluck();
      const ended = {
        ending,
        pushed: pushed(),
        stored: stored.get(runId) ?? NaN,
        integrity: file.pragma('integrity_check', { simple: true }),
        happenings: happenings.map(({ text }) => text),
        atMs,
      };
      file.close();
      return ended;
    },
  };
}
