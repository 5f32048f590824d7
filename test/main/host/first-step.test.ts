import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const firstStep = resolve(import.meta.dirname, '../../../src-main/host/first-step.mjs');
let root: string;

function write(path: string, text: string) {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
}

/** Every file and folder of the sources as old as a minute, so that what a test changes is newer than any build. */
function age() {
  for (const name of [
    'src-shared/a.ts',
    'src-shared',
    'src-main',
    'src-renderer',
    'electron.vite.config.ts',
    'package-lock.json',
  ]) {
    const then = new Date(Date.now() - 60_000);
    utimesSync(join(root, name), then, then);
  }
}

/** An npm that installs a Node and a builder of a few lines each, and keeps account of it. */
const npm = `
import { appendFileSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
appendFileSync('did', 'npm ' + process.argv.slice(2).join(' ') + '\\n');
if (process.env.NPM_FAILS) process.exit(7);
console.log('added packages');
const put = (path, text) => (mkdirSync(dirname(path), { recursive: true }), writeFileSync(path, text));
if (!process.env.NO_SCRIPTS) {
  mkdirSync('node_modules/node/bin', { recursive: true });
  rmSync('node_modules/node/bin/node', { force: true });
  symlinkSync(process.execPath, 'node_modules/node/bin/node');
}
put('node_modules/electron-vite/package.json', '{"bin":{"electron-vite":"build.mjs"}}');
put('node_modules/electron-vite/build.mjs', \`
  import { appendFileSync, mkdirSync, writeFileSync } from 'node:fs';
  appendFileSync('did', 'build\\\\n');
  console.log('built it');
  if (process.env.BUILD_FAILS) process.exit(9);
  mkdirSync('out/main', { recursive: true });
  writeFileSync('out/main/package.json', '{"type":"module"}');
  writeFileSync('out/main/calc.js', 'import process from "node:process"; console.log(JSON.stringify({ args: process.argv.slice(2), cwd: process.cwd() })); process.exitCode = Number(process.env.CALC_CODE ?? 0);');
  writeFileSync('out/main/start.js', 'process.on("SIGTERM", () => { console.log("stopped"); process.exit(0); }); setInterval(() => 0, 1000); console.log("up");');
\`);
for (const tool of ['eslint', 'svelte-check', 'typescript', 'dependency-cruiser', 'knip', 'prettier', 'vitest']) {
  put('node_modules/' + tool + '/package.json', '{"bin":"run.mjs"}');
  put('node_modules/' + tool + '/run.mjs', \`
    import { appendFileSync } from 'node:fs';
    const said = ['\${tool}', ...process.argv.slice(2).filter((each) => each === 'e2e' || each === 'node')].join(' ');
    appendFileSync('did', said + '\\\\n');
    if (process.env.FAILS === said) process.exit(1);
    if (process.env.HANGS === said) setInterval(() => 0, 1000);
  \`);
}
`;

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'turnwright-first-'));
  mkdirSync(join(root, 'src-main', 'host'), { recursive: true });
  cpSync(firstStep, join(root, 'src-main', 'host', 'first-step.mjs'));
  write('npm-cli.js', npm);
  write('package.json', '{"type":"module"}');
  write('package-lock.json', '{}');
  write('electron.vite.config.ts', '');
  write('src-shared/a.ts', '');
  write('src-renderer/index.html', '');
  age();
});

afterEach(() => {
  rmSync(root, { recursive: true, force: true });
});

const envOf = (more: NodeJS.ProcessEnv) => ({
  ...process.env,
  npm_execpath: join(root, 'npm-cli.js'),
  npm_lifecycle_event: undefined,
  INIT_CWD: undefined,
  ...more,
});

/** Runs a step; `did` is what was installed and built on the way. */
function run(args: readonly string[], more: NodeJS.ProcessEnv = {}, cwd = root) {
  rmSync(join(root, 'did'), { force: true });
  const step = join(root, 'src-main', 'host', 'first-step.mjs');
  const { status, stdout, stderr } = spawnSync(process.execPath, [step, ...args], {
    cwd,
    env: envOf(more),
    encoding: 'utf8',
  });
  const did = existsSync(join(root, 'did')) ? readFileSync(join(root, 'did'), 'utf8').trim().split('\n') : [];
  return { status, stdout, stderr, did };
}

const installed = 'npm ci --include=dev --loglevel=error --no-audit --no-fund';

describe('the first step', () => {
  it('installs and builds on a fresh clone, and keeps standard output for the command', () => {
    const { status, stdout, stderr, did } = run(['calc', '--list']);
    expect(status, stderr).toBe(0);
    expect(did).toEqual([installed, 'build']);
    expect(JSON.parse(stdout)).toEqual({ args: ['--list'], cwd: root });
    expect(stderr).toContain('Installing what is missing');
    expect(stderr).toContain('added packages');
    expect(stderr).toContain('Building ...');
  });

  it('does neither when nothing has changed, and says nothing', () => {
    run(['calc']);
    expect(run(['calc'])).toMatchObject({ status: 0, did: [], stderr: '' });
  });

  it('installs again when the lock is another, and builds again when it is newer', () => {
    run(['calc']);
    write('package-lock.json', '{"name":"other"}');
    expect(run(['calc']).did).toEqual([installed, 'build']);
  });

  it('builds again when a source was changed, added or taken away', () => {
    run(['build']);
    write('src-shared/a.ts', 'export {};');
    expect(run(['build']).did).toEqual(['build']);
    write('src-renderer/part/b.ts', '');
    expect(run(['build']).did).toEqual(['build']);
    rmSync(join(root, 'src-renderer', 'part', 'b.ts'));
    expect(run(['build']).did).toEqual(['build']);
    expect(run(['build']).did).toEqual([]);
  });

  it('ends with the code of what failed, and tries that again the next time', () => {
    expect(run(['calc'], { NPM_FAILS: '1' })).toMatchObject({ status: 7, did: [installed], stdout: '' });
    expect(run(['calc'], { BUILD_FAILS: '1' })).toMatchObject({ status: 9, did: [installed, 'build'], stdout: '' });
    expect(run(['calc'])).toMatchObject({ status: 0, did: ['build'] });
    expect(run(['calc'], { CALC_CODE: '2' })).toMatchObject({ status: 2, did: [] });
  });

  it('says what to do when npm was not allowed to fetch the pinned Node', () => {
    const { status, stderr } = run(['calc'], { NO_SCRIPTS: '1' });
    expect(status).toBe(1);
    expect(stderr).toContain('npm is told not to run install scripts');
  });

  it('starts the program where the person stands', () => {
    run(['build']);
    const elsewhere = join(root, 'src-shared');
    expect(JSON.parse(run(['calc'], { INIT_CWD: elsewhere }).stdout)).toMatchObject({ cwd: elsewhere });
    expect(JSON.parse(run(['calc'], {}, elsewhere).stdout)).toMatchObject({ cwd: elsewhere });
  });

  it('refuses a step or a gate that there is not, with those that there are', () => {
    expect(run(['strat'])).toMatchObject({
      status: 1,
      did: [],
      stderr: expect.stringContaining('Known: start, calc') as string,
    });
    run(['build']);
    expect(run(['check', 'typos'])).toMatchObject({
      status: 1,
      stderr: expect.stringContaining('Known: lint') as string,
    });
  });

  it('tests with every gate and every test, and ends red when one of them is', () => {
    const beside = ['eslint', 'svelte-check', 'typescript', 'dependency-cruiser', 'knip', 'prettier', 'vitest e2e'];
    run(['build']);
    const green = run(['test']);
    expect(green.status, green.stderr).toBe(0);
    expect(green.did.slice(0, -1).sort()).toEqual([...beside].sort());
    expect(green.did.at(-1)).toBe('vitest node');
    for (const fails of ['eslint', 'prettier', 'vitest e2e']) {
      const { status, did } = run(['test'], { FAILS: fails });
      expect(status, fails).toBe(1);
      expect(did.sort(), fails).toEqual([...beside].sort());
    }
    expect(run(['test'], { FAILS: 'vitest node' }).status).toBe(1);
  });

  it('ends at once, and not green, when it is told to stop in the midst of the tests', async () => {
    run(['build']);
    const step = join(root, 'src-main', 'host', 'first-step.mjs');
    for (const hangs of ['vitest e2e', 'vitest node']) {
      rmSync(join(root, 'did'), { force: true });
      const told = spawn(process.execPath, [step, 'test'], { cwd: root, env: envOf({ HANGS: hangs }) });
      await expect
        .poll(() => (existsSync(join(root, 'did')) ? readFileSync(join(root, 'did'), 'utf8') : ''))
        .toContain(hangs);
      told.kill('SIGTERM');
      expect(await once(told, 'exit'), hangs).toEqual([1, null]);
    }
  });

  it('passes a signal on, and ends when the shell that npm put it in is gone', async () => {
    run(['build']);
    const step = join(root, 'src-main', 'host', 'first-step.mjs');
    const env = envOf({ npm_lifecycle_event: 'start' });
    const direct = spawn(process.execPath, [step, 'start'], { cwd: root, env });
    await once(direct.stdout, 'data');
    direct.kill('SIGTERM');
    expect(String(await once(direct.stdout, 'data'))).toBe('stopped\n');
    expect(await once(direct, 'exit')).toEqual([0, null]);
    const shell = spawn('sh', ['-c', `"${process.execPath}" "${step}" start; true`], { cwd: root, env });
    await once(shell.stdout, 'data');
    shell.kill('SIGKILL');
    expect(String(await once(shell.stdout, 'data'))).toBe('stopped\n');
  });
});
