import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { tryTheDesktop, whyNoDesktop, type Surroundings } from '../../../src-main/host/choose-host.ts';
import { electronBinary } from '../../../src-main/host/electron-binary.ts';

let folder: string;
let electron: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-choose-'));
  electron = join(folder, 'electron');
  mkdirSync(electron);
  writeFileSync(join(electron, 'package.json'), '{"version":"45.5.0"}');
});

afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A stand-in for Electron's program: a script that is given what the program would be. */
const program = (body: string) => `#!${process.execPath}\nconst args = process.argv.slice(2);\n${body}\n`;

function putBinary(body: string, version = '45.5.0') {
  mkdirSync(join(electron, 'dist'), { recursive: true });
  writeFileSync(join(electron, 'dist', 'version'), version);
  writeFileSync(join(electron, 'path.txt'), 'electron');
  writeFileSync(join(electron, 'dist', 'electron'), program(body));
  chmodSync(join(electron, 'dist', 'electron'), 0o755);
}

/** A stand-in for the script that fetches Electron. `fetched` writes what it is to have fetched. */
function putInstaller(body: string, fetched = shows) {
  const text = JSON.stringify(program(fetched));
  writeFileSync(
    join(electron, 'install.js'),
    `const fs = require('fs'), os = require('os'), path = require('path');
     const arrive = (bytes) => fs.appendFileSync(path.join(os.tmpdir(), 'electron.zip'), Buffer.alloc(bytes));
     const finish = () => {
       fs.mkdirSync(path.join(__dirname, 'dist'), { recursive: true });
       fs.writeFileSync(path.join(__dirname, 'dist', 'electron'), ${text}, { mode: 0o755 });
       fs.writeFileSync(path.join(__dirname, 'dist', 'version'), 'v45.5.0');
       fs.writeFileSync(path.join(__dirname, 'path.txt'), 'electron');
     };
     fs.writeFileSync(path.join(__dirname, 'ran'), os.tmpdir());
     ${body}`,
  );
}

const shows = `console.log('Turnwright is in its window.'); setTimeout(() => process.exit(0), 50);`;
/** Long enough for a busy machine to start a program; nothing that comes has to hurry. */
const patient = { downloadMs: 20_000, windowMs: 20_000, lookEveryMs: 20 };
/** For what never comes, or stops coming: a busy machine still begins in time. */
const shortly = { ...patient, downloadMs: 4000, windowMs: 1500 };
const triedShortly = () => tried(withDisplay(), false, null, shortly);
const withDisplay = (): Surroundings => ({
  platform: 'linux',
  env: { DISPLAY: ':0' },
  uid: 1000,
  electronFolder: electron,
});

/** Tries the desktop; the exit code or null, and every line that was said. */
async function tried(
  surroundings: Surroundings = withDisplay(),
  isLocal = false,
  data: string | null = null,
  patience = patient,
) {
  const said: string[] = [];
  const stopping = new AbortController();
  const result = tryTheDesktop({
    chosen: { opensBrowser: true, port: 0, folder: data, isLocal },
    surroundings,
    program: '/where/it/is',
    say: (line) => said.push(line),
    stopped: stopping.signal,
    patience,
  });
  return { said, stopping, result, exitCode: await result };
}

describe('where no desktop window is tried', () => {
  it.each([
    ['there is no display', { env: {} }],
    ['there is no display', { env: { DISPLAY: '', WAYLAND_DISPLAY: '' } }],
    ['it does not run as root', { uid: 0 }],
    ['Electron is not installed', { electronFolder: null }],
  ])('%s: one line, and on with the local host', async (why, change) => {
    putBinary(shows);
    const { exitCode, said } = await tried({ ...withDisplay(), ...change });
    expect(exitCode).toBeNull();
    expect(said).toEqual([`No desktop window (${why}). Going on in your browser.`]);
  });

  it('knows a display on each system', () => {
    expect(whyNoDesktop({ ...withDisplay(), env: { WAYLAND_DISPLAY: 'wayland-0' } })).toBeNull();
    for (const platform of ['win32', 'darwin']) {
      expect(whyNoDesktop({ ...withDisplay(), platform, env: {}, uid: null })).toBeNull();
    }
  });

  it('says nothing when the local host was asked for, and starts nothing', async () => {
    putInstaller('');
    expect(await tried(withDisplay(), true)).toMatchObject({ exitCode: null, said: [] });
    expect(existsSync(join(electron, 'ran'))).toBe(false);
  });
});

describe('a desktop window that is there to be had', () => {
  it('is shown; the launcher ends as it ends', async () => {
    putBinary(`${shows.replace('exit(0)', 'exit(7)')} console.error('noise before the end');`);
    const { exitCode, said } = await tried();
    expect(exitCode).toBe(7);
    expect(said.join()).not.toContain('No desktop window');
  });

  it('is given the program and the folder, and no setting that would make Electron something else', async () => {
    const note = join(folder, 'given.json');
    putBinary(
      `require('fs').writeFileSync(${JSON.stringify(note)}, JSON.stringify({ args, as: process.env.ELECTRON_RUN_AS_NODE ?? null })); ${shows}`,
    );
    process.env['ELECTRON_RUN_AS_NODE'] = '1';
    await tried(withDisplay(), false, 'some where');
    delete process.env['ELECTRON_RUN_AS_NODE'];
    expect(JSON.parse(readFileSync(note, 'utf8'))).toEqual({
      args: ['/where/it/is', '--data', 'some where'],
      as: null,
    });
  });

  it('is enough when another copy has it in front already', async () => {
    putBinary(`console.log('Turnwright is open already; its window is in front now.');`);
    expect(await tried()).toMatchObject({
      exitCode: 0,
      said: ['Turnwright is open already; its window is in front now.'],
    });
  });

  it('is not followed by the local host when the program itself refused to start', async () => {
    putBinary(`console.log('Turnwright cannot start: the record is held.'); process.exitCode = 1;`);
    expect(await tried()).toMatchObject({ exitCode: 1, said: ['Turnwright cannot start: the record is held.'] });
  });
});

describe('a desktop window that does not come', () => {
  it.each([
    [
      'an early exit',
      `console.error('a\\nThe sandbox is not set up.'); process.exit(1);`,
      /it ended with 1: The sandbox is/,
    ],
    ['an early exit that looks fine', 'process.exit(0);', /it ended with 0\)/],
    ['an end by a signal', `process.kill(process.pid, 'SIGKILL');`, /it ended with SIGKILL/],
    ['no window in time', 'setInterval(() => 0, 1000);', /its window did not show within 2 s/],
  ])('%s: one line, and on with the local host', async (what, body, why) => {
    putBinary(body);
    const { exitCode, said } = await (what === 'no window in time' ? triedShortly() : tried());
    expect(exitCode).toBeNull();
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(why);
    expect(said[0]).toMatch(/^No desktop window \(.*\)\. Going on in your browser\.$/);
  });

  it('a program that cannot be run: one line, and on with the local host', async () => {
    putBinary(shows);
    chmodSync(join(electron, 'dist', 'electron'), 0o644);
    const { exitCode, said } = await tried();
    expect(exitCode).toBeNull();
    expect(said).toEqual([expect.stringContaining('EACCES')]);
  });
});

describe('Electron that was not fetched yet', () => {
  it('is fetched once, which is said when it begins to arrive, and then shown', async () => {
    putInstaller('arrive(1000); setTimeout(() => { arrive(1000); finish(); }, 200);');
    const { exitCode, said } = await tried();
    expect(exitCode).toBe(0);
    expect(said).toEqual(['Fetching the desktop window, once (about 120 MB) ...']);
    expect(electronBinary(electron)).toBe(join(electron, 'dist', 'electron'));
    rmSync(join(electron, 'ran'));
    expect(await tried()).toMatchObject({ exitCode: 0, said: [] });
    expect(existsSync(join(electron, 'ran'))).toBe(false);
  });

  it('may take long, as long as it keeps arriving', async () => {
    putInstaller(
      'let left = 10; const more = setInterval(() => { arrive(1); if (!(left -= 1)) { clearInterval(more); finish(); } }, 500);',
    );
    expect((await triedShortly()).exitCode).toBe(0);
  });

  it('hangs without a byte: it is ended in time, one line, and on with the local host', async () => {
    putInstaller('setInterval(() => 0, 1000);');
    const { exitCode, said } = await triedShortly();
    expect(exitCode).toBeNull();
    expect(said).toEqual([
      'No desktop window (Electron did not begin to arrive within 4 s). Going on in your browser.',
    ]);
    expect(existsSync(readFileSync(join(electron, 'ran'), 'utf8'))).toBe(false);
  });

  it('stands still half way: it is ended, and on with the local host', async () => {
    putInstaller('arrive(1000); setInterval(() => 0, 1000);');
    const { exitCode, said } = await triedShortly();
    expect(exitCode).toBeNull();
    expect(said[1]).toMatch(/Electron stopped arriving for 4 s/);
  });

  it.each([
    ['fails at once', 'console.error(new Error("ENOTFOUND").stack); process.exit(1);'],
    ['ends well without having fetched anything', ''],
    ['throws', 'throw new Error("x");'],
  ])('%s: one line, and on with the local host', async (_what, body) => {
    putInstaller(body);
    const { exitCode, said } = await tried();
    expect(exitCode).toBeNull();
    expect(said).toEqual(['No desktop window (Electron could not be fetched). Going on in your browser.']);
  });

  it('is fetched again when what is there is of another version', async () => {
    putBinary('process.exit(1);', '44.0.0');
    putInstaller('arrive(1); finish();');
    expect((await tried()).exitCode).toBe(0);
  });
});

describe('a stop from outside', () => {
  async function stoppedAfter(ready: () => boolean) {
    const said: string[] = [];
    const stopping = new AbortController();
    const result = tryTheDesktop({
      chosen: { opensBrowser: true, port: 0, folder: null, isLocal: false },
      surroundings: withDisplay(),
      program: '/where/it/is',
      say: (line) => said.push(line),
      stopped: stopping.signal,
      patience: { downloadMs: 20_000, windowMs: 20_000, lookEveryMs: 20 },
    });
    await expect.poll(ready).toBe(true);
    stopping.abort();
    return { exitCode: await result, said };
  }

  it('ends a fetching that is under way, and says nothing', async () => {
    putInstaller('setInterval(() => 0, 1000);');
    expect(await stoppedAfter(() => existsSync(join(electron, 'ran')))).toEqual({ exitCode: null, said: [] });
  });

  it('is passed on to the window, which ends in its own way', async () => {
    const note = join(folder, 'up');
    putBinary(
      `process.on('SIGTERM', () => process.exit(3)); require('fs').writeFileSync(${JSON.stringify(note)}, ''); setInterval(() => 0, 1000);`,
    );
    expect(await stoppedAfter(() => existsSync(note))).toEqual({ exitCode: 3, said: [] });
  });
});

describe('the built start', () => {
  const built = resolve(import.meta.dirname, '../../../out/main/start.js');

  it('goes on with the local host, and says why in one line', async () => {
    const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...env } = process.env;
    const child = spawn(process.execPath, [built, '--data', join(folder, 'data')], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...env, PATH: folder },
    });
    let said = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (said += text));
    const [out] = (await once(child.stdout, 'data')) as [Buffer];
    expect(out.toString()).toMatch(/^Turnwright is at http:/);
    expect(said).toMatch(/^No desktop window \(.+\)\. Going on in your browser\.\n/);
    child.kill('SIGTERM');
    expect((await once(child, 'exit'))[0]).toBe(0);
  });

  it('refuses an option that it does not know, once', async () => {
    const child = spawn(process.execPath, [built, '--no-opne'], { stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (said += text));
    expect((await once(child, 'close'))[0]).toBe(2);
    expect(said.match(/There is no option/g)).toHaveLength(1);
  });
});
