import { ReadlineParser } from '@serialport/parser-readline';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { SerialPort } from 'serialport';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createLineChain } from '../../src-main/meter/line-chain.ts';
import { serialPort } from '../../src-main/meter/meter-port.ts';
import { openPtyPair, type PtyPair } from '../main/meter/pty-pair.ts';
import { until } from '../main/meter/until.ts';
import { settingsFor } from '../main/meter/wires.ts';

/** Each of these shows the trap in the library as it is, then that the program does not fall into it. */

const source = (name: string) => JSON.stringify(join(import.meta.dirname, '../../src-main/meter', name));

/** Runs a module with the Node of the tests; gives what it printed. */
async function run(script: string, env: NodeJS.ProcessEnv = process.env, before = ''): Promise<string> {
  const node = [process.execPath, '--input-type=module-typescript', '-e', script];
  const shell = ['/bin/sh', '-c', `${before} exec "$@"`, 'sh', ...node];
  const [command = '', ...rest] = before === '' ? node : shell;
  const child = spawn(command, rest, { env, cwd: import.meta.dirname, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => (said += chunk.toString()));
  await once(child, 'close');
  return said.trim();
}

let pair: PtyPair;
beforeEach(async () => {
  pair = await openPtyPair();
});
afterEach(async () => {
  await pair.close();
});

const library = (path = pair.programEnd) => new SerialPort({ path, baudRate: 9600, autoOpen: false });
const opened = (port: SerialPort) =>
  new Promise<void>((resolve, reject) => {
    port.open((error) => {
      if (error) reject(error);
      else resolve();
    });
  });
const closed = (port: SerialPort) =>
  new Promise<void>((resolve) => {
    port.close(() => {
      resolve();
    });
  });

describe('what arrives on a port while nothing else happens', () => {
  it('is delivered at once by the Node that is used', async () => {
    const script = `
      import { spawn } from 'node:child_process';
      import { serialPort } from ${source('meter-port.ts')};
      const port = serialPort(${JSON.stringify(settingsFor(pair.programEnd))});
      await port.open();
      // No timer of this process is pending while the line is on its way: the writer is another process.
      port.onData((bytes) => {
        const at = Number(Buffer.from(bytes).toString().split(' ')[1]);
        console.log('late by', Math.round(Date.now() - at));
        void port.close();
      });
      spawn('/bin/sh', ['-c', 'sleep 0.3; echo "at $(date +%s%3N) ms" > "$0"', ${JSON.stringify(pair.meterEnd)}], { stdio: 'ignore' });
      setTimeout(() => process.exit(), 3000).unref();`;
    const said = await run(script);
    const [, late] = /late by (-?\d+)/.exec(said) ?? [];
    expect(Number(late)).toBeLessThan(150);
  });
});

describe('what is written to a port that is closed', () => {
  it('would be sent after it is opened again', async () => {
    const heard: string[] = [];
    pair.onSent((bytes) => heard.push(Buffer.from(bytes).toString()));
    const port = library();
    await opened(port);
    await closed(port);
    port.write('STALE\n');
    await opened(port);
    await until(() => heard.join('').includes('STALE'), 'the stale command');
    await closed(port);
  });

  it('is refused by a meter port, and a new one sends only its own', async () => {
    const heard: string[] = [];
    pair.onSent((bytes) => heard.push(Buffer.from(bytes).toString()));
    const first = serialPort(settingsFor(pair.programEnd));
    await expect(first.write('BEFORE\n')).rejects.toThrow('not open');
    await first.open();
    await first.close();
    await expect(first.write('STALE\n')).rejects.toThrow('not open');
    const second = serialPort(settingsFor(pair.programEnd));
    await second.open();
    await second.write('READ?\n');
    await until(() => heard.join('').includes('READ?'), 'the command');
    expect(heard.join('')).toBe('READ?\n');
    await second.close();
  });
});

describe('bytes without a line end', () => {
  const chunk = Buffer.alloc(1024, 0x55);
  const many = 512;

  it('would be kept by the line parser without bound', () => {
    const parser = new ReadlineParser();
    for (let sent = 0; sent < 4 * many; sent += 1) parser.write(chunk);
    expect(parser.buffer.length).toBe(4 * many * chunk.length);
  });

  it('are dropped by the chain as one line that is too long', () => {
    const dropped: string[] = [];
    const lines: string[] = [];
    const chain = createLineChain({
      encoding: 'ascii',
      joinsMidLine: false,
      onLine: (text) => lines.push(text),
      onDropped: (why) => dropped.push(why),
    });
    for (let sent = 0; sent < 100 * many; sent += 1) chain.push(chunk);
    expect(dropped).toEqual(['too-long']);
    expect(chain.counts()).toEqual({ lines: 0, tooLong: 1, unprintable: 0, partial: 0 });
  });
});

describe('half a line at the end of a connection', () => {
  it('would be handed on by the line parser as if it were whole', async () => {
    const parser = new ReadlineParser();
    const lines: string[] = [];
    parser.on('data', (text: string) => lines.push(text));
    parser.write(Buffer.from('118.6 V\n118'));
    parser.end();
    await once(parser, 'end');
    expect(lines).toEqual(['118.6 V', '118']);
  });

  it('is dropped by the chain', async () => {
    const lines: string[] = [];
    const dropped: string[] = [];
    const chain = createLineChain({
      encoding: 'ascii',
      joinsMidLine: false,
      onLine: (text) => lines.push(text),
      onDropped: (why, text) => dropped.push(`${why}: ${text}`),
    });
    chain.push(Buffer.from('118.6 V\n118'));
    chain.end();
    await until(() => lines.length === 1, 'the whole line');
    expect(lines).toEqual(['118.6 V']);
    expect(dropped).toEqual(['partial: 118']);
  });
});

describe('listing ports', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'turnwright-list-'));
    writeFileSync(join(folder, 'udevadm'), '#!/bin/sh\nexit 1\n');
    chmodSync(join(folder, 'udevadm'), 0o755);
  });
  afterEach(() => {
    rmSync(folder, { recursive: true });
  });

  const ours = `
    import { listPorts } from ${source('ports.ts')};
    console.log((await listPorts()).failed?.code ?? 'listed');`;
  const theirs = `
    import { SerialPort } from 'serialport';
    process.on('uncaughtException', () => { console.log('uncaught'); process.exit(); });
    const listed = await SerialPort.list().then((ports) => String(ports.length), () => 'rejected');
    console.log(listed);
    await new Promise((resolve) => setTimeout(resolve, 50));`;
  const noLister = () => ({ PATH: join(folder, 'nowhere') });
  const brokenLister = () => ({ PATH: `${folder}:/usr/bin:/bin` });

  it('without the lister would reject, and is said', async () => {
    expect(await run(theirs, noLister())).toBe('rejected');
    expect(await run(ours, noLister())).toBe('no-lister');
  });

  it('with a lister that fails would look like no ports, and is said', async () => {
    expect(await run(theirs, brokenLister())).toBe('0');
    expect(await run(ours, brokenLister())).toBe('lister-failed');
  });

  it('with no descriptors left would end the program, and is said', async () => {
    const starved = (script: string) => `
      import { openSync } from 'node:fs';
      ${script.replace(/(const listed|console.log\(\(await)/, `try { for (;;) openSync('/dev/null', 'r'); } catch {}\n $1`)}`;
    expect(await run(starved(theirs), process.env, 'ulimit -n 64;')).toContain('uncaught');
    expect(await run(starved(ours), process.env, 'ulimit -n 64;')).toBe('out-of-descriptors');
  });
});

describe('the handshake lines of a port that has none', () => {
  it('would end the program by an error event, and are done without', async () => {
    const port = library();
    await opened(port);
    const failed = once(port, 'error');
    port.set({ dtr: false, rts: false });
    expect(String(await failed)).toContain('ioctl');
    await closed(port);

    const ours = serialPort(settingsFor(pair.programEnd));
    const heard: string[] = [];
    ours.onData((bytes) => heard.push(Buffer.from(bytes).toString()));
    await ours.open();
    await expect(ours.setLines({ dtr: false, rts: false })).rejects.toThrow('ioctl');
    await pair.write('118.6 V\n');
    await until(() => heard.join('').includes('118.6 V'), 'the line');
    await ours.close();
  });
});

describe('a lead that is pulled', () => {
  const flood = async () => {
    const line = '118.6 V\n'.repeat(50);
    for (let sent = 0; sent < 50; sent += 1) await pair.write(line);
  };

  it('would not be told by the library while data are being read', async () => {
    let untold = 0;
    for (let time = 0; time < 12; time += 1) {
      const port = library();
      let isTold = false;
      port.on('error', () => undefined);
      port.on('data', () => undefined);
      port.on('close', () => {
        isTold = true;
      });
      await opened(port);
      await flood();
      await pair.pull();
      await new Promise((resolve) => setTimeout(resolve, 200));
      if (!isTold) untold += 1;
      await closed(port);
      pair = await openPtyPair(dirname(pair.meterEnd));
    }
    expect(untold).toBeGreaterThan(0);
  });

  it('is told once by the port, whatever it was doing, and the path opens again when it is back', async () => {
    for (let time = 0; time < 12; time += 1) {
      let lost = 0;
      const port = serialPort(settingsFor(pair.programEnd));
      port.onData(() => undefined);
      port.onLost(() => {
        lost += 1;
      });
      await port.open();
      if (time % 3 > 0) await flood();
      if (time % 3 > 1) await new Promise((resolve) => setTimeout(resolve, 30));
      await pair.pull();
      await until(() => lost === 1, 'the loss');
      await port.close();
      pair = await openPtyPair(dirname(pair.meterEnd));
      expect(lost).toBe(1);
    }
  });
});
