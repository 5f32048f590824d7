import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, chownSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { serialPort } from '../../../src-main/meter/meter-port.ts';
import { permissionAdvice } from '../../../src-main/meter/port-advice.ts';
import { openFailure } from '../../../src-main/meter/open-failure.ts';
import { linkReasons } from '../../../src-shared/meter/link-status.ts';
import { openPtyPair, type PtyPair } from './pty-pair.ts';
import { settingsFor } from './wires.ts';

async function openingSays(path: string): Promise<string> {
  const port = serialPort(settingsFor(path));
  try {
    await port.open();
  } catch (thrown) {
    return thrown instanceof Error ? await openFailure(path, thrown, process.platform) : 'no error';
  }
  await port.close();
  return 'open';
}

describe('why a port does not open, on the system itself', () => {
  let folder = '';
  let pair: PtyPair | undefined;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'turnwright-lock-baud-'));
  });
  afterEach(async () => {
    await pair?.close();
    pair = undefined;
    rmSync(folder, { recursive: true });
  });

  it('says that it is not there, whatever words its name has', async () => {
    expect(await openingSays(join(folder, 'tty-busy-lock'))).toBe('not-found');
  });

  it('says that it is no serial port', async () => {
    expect(await openingSays('/dev/null')).toBe('not-a-port');
    expect(await openingSays(folder)).toBe('not-a-port');
  });

  it('says that another holds it', async () => {
    pair = await openPtyPair();
    const holder = serialPort(settingsFor(pair.programEnd));
    await holder.open();
    expect(await openingSays(pair.programEnd)).toBe('busy');
    await holder.close();
    expect(await openingSays(pair.programEnd)).toBe('open');
  });

  it('says that this user may not, as an ordinary user', async () => {
    const path = join(folder, 'port');
    writeFileSync(path, '');
    chmodSync(path, 0);
    chmodSync(folder, 0o755);
    const isRoot = process.getuid?.() === 0;
    const script = `
      import { serialPort } from ${JSON.stringify(join(import.meta.dirname, '../../../src-main/meter/meter-port.ts'))};
      import { openFailure } from ${JSON.stringify(join(import.meta.dirname, '../../../src-main/meter/open-failure.ts'))};
      const path = ${JSON.stringify(path)};
      const port = serialPort({ path, identity: null, baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1, dtr: true, rts: true });
      await port.open().catch(async (error) => console.log(await openFailure(path, error, process.platform)));`;
    const child = spawn(process.execPath, ['--input-type=module-typescript', '-e', script], {
      ...(isRoot ? { uid: 65_534, gid: 65_534 } : {}),
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => (said += chunk.toString()));
    await once(child, 'exit');
    expect(said.trim()).toBe('permission');
  });
});

describe('why a port does not open, by the words of other systems', () => {
  it.each([
    ['win32', 'Opening COM3: File not found', 'not-found'],
    ['win32', 'Opening COM3: Access denied', 'busy'],
    ['win32', 'Opening COM3: Unknown error code 433', 'open-failed'],
    ['darwin', 'Error: Resource busy, cannot open /dev/tty.one', 'busy'],
    ['darwin', 'Error: Permission denied, cannot open /dev/tty.one', 'permission'],
    ['linux', 'Error: Resource temporarily unavailable Cannot lock port', 'busy'],
    ['linux', 'Error: Invalid argument setting custom baud rate of 921600', 'settings-refused'],
  ] as const)('%s: %s', async (platform, message, why) => {
    expect(await openFailure('COM3', new Error(message), platform)).toBe(why);
  });

  it('has a sentence that says what to do for each', () => {
    for (const sentence of Object.values(linkReasons)) expect(sentence).toMatch(/^[A-Z].*\.$|\?$/);
  });
});

describe('what to do about a port that this user may not open', () => {
  it('names the group that owns it and the command to join it, on Linux', async () => {
    const isRoot = process.getuid?.() === 0;
    const groups = readFileSync('/etc/group', 'utf8').split('\n');
    const [name, , gid] = (
      groups.find((line) => {
        const number = Number(line.split(':')[2]);
        return isRoot ? number > 0 : number === process.getgid?.();
      }) ?? ''
    ).split(':');
    const folder = mkdtempSync(join(tmpdir(), 'turnwright-group-'));
    const path = join(folder, 'port');
    writeFileSync(path, '');
    chownSync(path, process.getuid?.() ?? 0, Number(gid));
    const advice = await permissionAdvice(path, 'linux');
    rmSync(folder, { recursive: true });
    const words = `It belongs to the group ${name}. Join it: sudo usermod -aG ${name} ${userInfo().username}.`;
    expect(advice).toBe(`${words} Then sign out and in again.`);
  });

  it('says something else on another system, and where nobody can tell', async () => {
    expect(await permissionAdvice('/dev/no-such-port', 'linux')).toContain('chgrp dialout');
    expect(await permissionAdvice('COM3', 'win32')).toContain('Close every other program');
    expect(await permissionAdvice('/dev/tty.usb', 'darwin')).toContain('/dev/cu.');
  });
});
