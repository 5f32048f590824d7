import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { Client } from '../../contract/client.ts';
import { partsOf, socketWire } from '../../contract/socket-wire.ts';

const built = resolve(import.meta.dirname, '../../../out/main/local.js');
const folder = mkdtempSync(join(tmpdir(), 'turnwright-start-'));
const address = /^Turnwright is at (http:\/\/127\.0\.0\.1:\d+\/#t=[\w-]{43})\n$/;
let running: ChildProcess[] = [];
let folders = 0;

const newFolder = () => join(folder, `data-${(folders += 1)}`);

/** Starts the built program; `exit` settles with its code and everything it said. */
function start(args: readonly string[], env: NodeJS.ProcessEnv = {}) {
  const child = spawn(process.execPath, [built, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  });
  running.push(child);
  const said = { out: '', err: '' };
  child.stdout.setEncoding('utf8').on('data', (text: string) => (said.out += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (said.err += text));
  const exit = once(child, 'close').then(() => ({ code: child.exitCode, ...said }));
  const answering = async () => {
    await Promise.race([once(child.stdout, 'data'), exit]);
    const [, url] = address.exec(said.out) ?? [];
    if (url === undefined) throw new Error(`No address in ${JSON.stringify(said)}`);
    return url;
  };
  return { child, said, exit, answering };
}

afterEach(() => {
  for (const child of running) child.kill('SIGKILL');
  running = [];
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('starting the local host', () => {
  it('prints its address once, answers at it, says everything else elsewhere, keeps what it compiled, and starts again after a stop', async () => {
    const data = newFolder();
    const program = start(['--no-open', '--local', '--port', '0', '--data', data]);
    const url = await program.answering();
    const page = await fetch(url);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('<title>Turnwright</title>');
    const client = new Client(await socketWire(partsOf(url)));
    await client.hello();
    expect(await client.value('app.present', {})).toMatchObject({ warning: null, session: null });
    await client.close();
    program.child.kill('SIGTERM');
    const { code, out, err } = await program.exit;
    expect(code).toBe(0);
    expect(out).toBe(`Turnwright is at ${url}\n`);
    expect(err).toBe('Stopping ...\n');
    expect(readdirSync(join(dirname(built), 'compiled'))).not.toEqual([]);
    await start(['--no-open', '--data', data]).answering();
  });

  it.each(['SIGTERM', 'SIGINT'] as const)('stops within two seconds on %s, with a page open', async (signal) => {
    const program = start(['--no-open', '--data', newFolder()]);
    const wire = await socketWire(partsOf(await program.answering()));
    const client = new Client(wire);
    await client.hello();
    client.pause();
    const from = performance.now();
    program.child.kill(signal);
    expect(await program.exit).toMatchObject({ code: 0 });
    expect(performance.now() - from).toBeLessThan(2000);
  });

  it('takes the port it is given, and says so in a sentence when another program has it', async () => {
    const other = createServer();
    other.listen(0, '127.0.0.1');
    await once(other, 'listening');
    const taken = other.address();
    const port = typeof taken === 'object' && taken !== null ? taken.port : 0;
    const data = newFolder();
    const refused = await start(['--no-open', '--port', String(port), '--data', data]).exit;
    expect(refused).toMatchObject({ code: 1, out: '' });
    expect(refused.err).toBe(
      `Turnwright cannot listen on port ${port}: another program uses it. Choose another with --port.\n`,
    );
    other.close();
    await once(other, 'close');
    const program = start(['--no-open', '--port', String(port), '--data', data]);
    expect(partsOf(await program.answering()).port).toBe(port);
  });

  it('leaves a data folder alone that another copy holds', async () => {
    const data = newFolder();
    const first = start(['--no-open', '--data', data]);
    await first.answering();
    const { code, out, err } = await start(['--no-open', '--data', data]).exit;
    expect([code, out]).toEqual([1, '']);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain(data);
    first.child.kill('SIGKILL');
    await first.exit;
    await start(['--no-open', '--data', data]).answering();
  });

  it('refuses an option that it does not know, with the nearest one that it does', async () => {
    const { code, out, err } = await start(['--no-opne']).exit;
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('There is no option --no-opne; nearest is --no-open.');
  });

  it('goes on without a browser to open, and says so in one line', async () => {
    const program = start(['--data', newFolder()], { PATH: folder });
    const url = await program.answering();
    await expect.poll(() => program.said.err).toMatch(/^No browser could be opened .*\n$/);
    expect((await fetch(url)).status).toBe(200);
  });
});
