import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join, posix, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import packaging from '../../../../src-main/host/desktop/packaging.ts';
import { pack, type Packed } from './packed.ts';

const root = resolve(import.meta.dirname, '../../../..');
let packed: Packed;

beforeAll(async () => {
  packed = await pack();
});

afterAll(() => {
  packed.remove();
});

const textOf = (path: string) => readFileSync(join(packed.folder, path), 'utf8');
const ours = () => packed.paths.filter((path) => /^out\/main\/.*\.js$/.test(path));

describe('what is packed', () => {
  it('holds the program, its preload script, its page and its licence, and begins with the desktop host', () => {
    const built = readdirSync(join(root, 'out/renderer'), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name).slice(root.length + 1));
    expect(packed.paths).toEqual(
      expect.arrayContaining([...built, 'out/preload/preload.cjs', 'out/main/jobs-worker.js', 'LICENSE']),
    );
    expect(built.some((path) => path.endsWith('.woff2'))).toBe(true);
    const { main, version } = JSON.parse(textOf('package.json')) as { main: string; version: string };
    expect(main).toBe('out/main/desktop.js');
    expect(packed.paths).toContain(main);
    expect(version).toBe((JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }).version);
  });

  it('holds every migration, to the letter', () => {
    const code = ours().map(textOf).join('\n');
    const folder = join(root, 'src-main/store/migrations');
    const names = readdirSync(folder).filter((name) => name.endsWith('.sql'));
    expect(names.length).toBeGreaterThan(0);
    for (const name of names) {
      // The bundle holds the text as a literal of one of three kinds of quote.
      const text = readFileSync(join(folder, name), 'utf8');
      const tables = [...text.matchAll(/^CREATE (?:TABLE|TRIGGER|INDEX|VIEW)[^\n(]*/gm)].map(([line]) => line);
      expect(tables.length, name).toBeGreaterThan(0);
      for (const line of tables) expect(code, name).toContain(line.trimEnd());
    }
  });

  it('holds the native modules of this system, as files of their own', () => {
    const natives = packed.paths.filter((path) => path.endsWith('.node'));
    const here = `linux-${process.arch}`;
    expect(natives).toContain(`node_modules/better-sqlite3/prebuilds/${here}.node`);
    expect(natives.some((path) => path.startsWith(`node_modules/@serialport/bindings-cpp/prebuilds/${here}/`))).toBe(
      true,
    );
    expect(natives.filter((path) => !packed.unpacked.has(path))).toEqual([]);
    expect(natives.filter((path) => !path.includes(here))).toEqual([]);
  });

  it('holds no source, no test and no map', () => {
    const unwanted = packed.paths.filter(
      (path) =>
        /^(src-|test\/|dist\/|\.)|\.(map|ts|tsx|svelte|cpp|cc|c|h|gyp|md)$|\.test\.|(^|\/)(tests?|__tests__|spec)\//.test(
          path,
        ) || /^out\/main\/((local|start|calc)\.js$|chunks\/local-program|compiled)/.test(path),
    );
    expect(unwanted).toEqual([]);
  });

  it('holds every module that its own code asks for', () => {
    const known = new Set(['electron', ...builtinModules, ...builtinModules.map((name) => `node:${name}`)]);
    for (const path of ours()) {
      const text = textOf(path);
      const asked = [...text.matchAll(/^(?:import|export)\b[^;]*?["']([^"']+)["']|(?<!\{)\bimport\(["']([^"']+)["']/gm)]
        .map(([, fixed, later]) => fixed ?? later ?? '')
        .filter((name) => name !== '');
      expect(text.startsWith('import') ? asked.length : 1, path).toBeGreaterThan(0);
      for (const name of asked) {
        if (known.has(name)) continue;
        const file = name.startsWith('.') ? posix.join(dirname(path), name) : `node_modules/${name}/package.json`;
        expect(packed.paths, `${path} asks for ${name}`).toContain(file);
      }
    }
  });

  it('runs the record and the serial ports away from this tree', () => {
    const script = `
      const Database = require('better-sqlite3');
      const row = new Database(':memory:').prepare('SELECT sqlite_version() AS version').get();
      const { SerialPort } = require('serialport');
      const { ReadlineParser } = require('@serialport/parser-readline');
      SerialPort.list().catch(() => []).then(() => console.log(typeof row.version, typeof ReadlineParser));
    `;
    const ran = spawnSync(process.execPath, ['-e', script], { cwd: packed.folder, encoding: 'utf8' });
    expect(ran.stdout, ran.stderr).toBe('string function\n');
  });

  it('has a jobs worker that starts', () => {
    const script = `
      const worker = new (require('node:worker_threads').Worker)(${JSON.stringify(join(packed.folder, 'out/main/jobs-worker.js'))});
      worker.on('error', (error) => console.log(error.message));
      worker.on('online', () => setTimeout(() => worker.terminate().then(() => console.log('ended')), 300));
    `;
    const ran = spawnSync(process.execPath, ['-e', script], { cwd: packed.folder, encoding: 'utf8' });
    expect(ran.stdout, ran.stderr).toBe('ended\n');
  });

  describe('run by plain Node, with a silent module in Electron’s place', () => {
    const run = (env: NodeJS.ProcessEnv, data = join(packed.folder, 'data')) => {
      const module = join(packed.folder, 'node_modules/electron');
      mkdirSync(module, { recursive: true });
      cpSync(join(import.meta.dirname, 'silent-electron.cjs'), join(module, 'index.cjs'));
      writeFileSync(join(module, 'package.json'), '{"name":"electron","main":"index.cjs"}');
      return spawn(process.execPath, [join(packed.folder, 'out/main/desktop.js'), '--data', data], {
        stdio: ['ignore', 'pipe', 'pipe'],
        env: { ...process.env, ...env },
      });
    };

    it('says why it cannot start at all, and ends', async () => {
      const child = run({}, join(packed.folder, 'package.json'));
      let said = '';
      child.stdout.setEncoding('utf8').on('data', (text: string) => (said += text));
      expect((await once(child, 'close'))[0]).toBe(1);
      expect(said).toMatch(/^Turnwright cannot start: Error: (EEXIST|ENOTDIR).*\n$/);
    });

    it('comes to its end before Electron is ready, for Electron waits for that', async () => {
      // Node ends with 13 when a file still waits for something that nobody will bring.
      const child = run({ NEVER_READY: '1' });
      expect((await once(child, 'exit'))[0]).toBe(0);
    });

    it('shows its window, keeps its log where it says, and ends cleanly on a signal', async () => {
      const child = run({});
      let said = '';
      child.stderr.setEncoding('utf8').on('data', (text: string) => (said += text));
      const [out] = (await Promise.race([once(child.stdout, 'data'), once(child, 'exit')])) as [Buffer];
      expect(String(out), said).toBe('Turnwright is in its window.\n');
      expect(readdirSync(join(packed.folder, 'data'))).toEqual(expect.arrayContaining(['desktop']));
      child.kill('SIGTERM');
      expect((await once(child, 'exit'))[0]).toBe(0);
      expect(readFileSync(join(packed.folder, 'data/desktop/turnwright.log'), 'utf8')).toMatch(/^\d{4}-.*Stopping/m);
    });
  });

  it('is read from its archive alone, and is no Node, debugger or browser of files for anybody', () => {
    // In the order of the fuses: run as Node, cookie encryption, NODE_OPTIONS, --inspect, archive checked, archive
    // only, snapshot of its own, more rights for files. Zero is off.
    expect(packed.fuses).toBe('00001100');
    expect(packed.said).not.toContain('signing');
  });
});

it('is made for people on Linux, macOS and Windows', () => {
  expect(packaging.linux?.target).toEqual(['AppImage', 'deb']);
  expect(packaging.mac?.target).toBe('dmg');
  expect(packaging.win?.target).toBe('nsis');
});
