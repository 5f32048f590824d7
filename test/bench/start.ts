import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { median, type BenchRow } from './row.ts';

const root = resolve(import.meta.dirname, '..', '..');
const page = join(root, 'out', 'renderer', 'index.html');
const rounds = 9;
const goal = 2;

/** Milliseconds from starting a program until the page that it names has been received whole. */
async function startToPage(args: readonly string[]): Promise<number> {
  const from = performance.now();
  const child = spawn(process.execPath, args, { cwd: root, stdio: ['ignore', 'pipe', 'ignore'] });
  const ended = once(child, 'exit');
  const address = await new Promise<string>((found, reject) => {
    let said = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said += text;
      const [, url] = /is at (http:\S+)\n/.exec(said) ?? [];
      if (url !== undefined) found(url);
    });
    void ended.then(() => {
      reject(new Error(`${args.join(' ')} ended before it answered.`));
    });
  });
  const answer = await fetch(address);
  await answer.arrayBuffer();
  const took = performance.now() - from;
  if (!answer.ok) throw new Error(`${address} answered ${answer.status}.`);
  child.kill('SIGTERM');
  await ended;
  return took;
}

/**
 * From start to served page, against bare Node with a database and one file; by turns, medians, on a folder in use and
 * with what an earlier start compiled.
 */
export async function startRows(): Promise<BenchRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-start-'));
  const ours = [join(root, 'out', 'main', 'local.js'), '--no-open', '--port', '0', '--data', join(folder, 'data')];
  const bare = [join(root, 'test', 'bench', 'bare.mjs'), folder, page];
  try {
    const first = await startToPage(ours);
    await startToPage(bare);
    const took: { ours: number; bare: number }[] = [];
    for (let round = 0; round < rounds; round += 1) {
      took.push({ ours: await startToPage(ours), bare: await startToPage(bare) });
    }
    const value = median(took.map((each) => each.ours));
    const baseline = median(took.map((each) => each.bare));
    const ratio = value / baseline;
    return [
      { name: 'start: to served page', value, unit: 'ms', baseline, ratio, goal, holds: ratio <= goal },
      {
        name: 'start: to served page, new folder',
        value: first,
        unit: 'ms',
        baseline: null,
        ratio: null,
        goal: null,
        holds: null,
      },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
