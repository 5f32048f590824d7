// The first step of every npm script. Runs on the system's own Node (18 or newer), with no dependency, and makes a
// fresh clone ready: installs what is missing, builds when sources are newer, then hands over to the pinned Node.
// It speaks on standard error only, so that what a command prints on standard output is the command's own.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const pinnedNode = join(root, 'node_modules', 'node', 'bin', process.platform === 'win32' ? 'node.exe' : 'node');
const parent = process.ppid;
const say = (line) => process.stderr.write(`${line}\n`);

function giveUp(line) {
  say(line);
  process.exit(1);
}

/** Runs a program with its output on our standard error; ends this one with its exit code when it fails. */
function must(command, args, options = {}) {
  const done = spawnSync(command, args, { cwd: root, stdio: ['ignore', 2, 2], ...options });
  if (done.error) giveUp(`Cannot run ${command}: ${done.error.message}`);
  if (done.status !== 0) process.exit(done.status ?? 1);
}

/** The script behind an installed command, to be run on the pinned Node. */
function tool(name, ...args) {
  const folder = join(root, 'node_modules', name);
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const file = typeof bin === 'string' ? bin : (bin[name] ?? Object.values(bin)[0]);
  return [join(folder, file), ...args];
}

function ensureInstalled() {
  const stamp = join(root, 'node_modules', '.turnwright-lock');
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(pinnedNode) && existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  say('Installing what is missing (once; a minute or so) ...');
  const args = ['ci', '--include=dev', '--loglevel=error', '--no-audit', '--no-fund'];
  const npm = process.env.npm_execpath;
  if (npm && /npm-cli\.c?js$/.test(npm)) must(process.execPath, [npm, ...args]);
  else must(process.platform === 'win32' ? 'npm.cmd' : 'npm', args, { shell: process.platform === 'win32' });
  if (!existsSync(pinnedNode)) {
    giveUp(
      'The pinned Node is missing after the install: npm is told not to run install scripts. Allow them for `node`.',
    );
  }
  writeFileSync(stamp, lock);
}

/** The newest change below a path, folders included so that a removed file counts. */
function newest(path) {
  const at = statSync(path);
  if (!at.isDirectory()) return at.mtimeMs;
  return readdirSync(path).reduce((latest, name) => Math.max(latest, newest(join(path, name))), at.mtimeMs);
}

function ensureBuilt() {
  const stamp = join(root, 'out', '.built');
  const sources = ['src-shared', 'src-main', 'src-renderer', 'electron.vite.config.ts', 'package-lock.json'];
  const changed = Math.max(...sources.map((name) => newest(join(root, name))));
  if (existsSync(stamp) && statSync(stamp).mtimeMs > changed) return;
  say('Building ...');
  const started = new Date();
  must(pinnedNode, tool('electron-vite', 'build', '--logLevel', 'error'));
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, 'Its time is the start of the last build that came to its end.\n');
  // What was changed while it was building counts as newer.
  utimesSync(stamp, started, started);
}

/** Debian packages that the tests use. Only as root on Debian; elsewhere says what is missing. */
function ensureTestPrograms() {
  const wanted = { chromium: '/usr/bin/chromium', socat: '/usr/bin/socat', udev: '/usr/bin/udevadm' };
  const missing = Object.keys(wanted).filter((name) => !existsSync(wanted[name]));
  if (missing.length === 0) return;
  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    say(`Installing Debian packages for the tests: ${missing.join(', ')} ...`);
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    must('apt-get', ['update', '-qq'], { env });
    must('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...missing], { env });
  } else if (process.platform === 'linux') {
    say(`The tests need these programs: ${missing.join(', ')}. Install them, then run this again.`);
  }
}

/**
 * Starts the pinned Node on our streams and passes on to it what tells us to stop. `ended` is given its exit code, and
 * whether it was told to stop.
 */
function startBelow(args, cwd, ended) {
  const child = spawn(pinnedNode, args, { cwd, stdio: 'inherit' });
  let wasTold = false;
  const stop = (signal) => {
    wasTold = true;
    child.kill(signal);
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, stop);
  // npm starts scripts in a shell, which passes no signal on: when the shell is gone, npm was told to stop.
  const watch = setInterval(() => {
    if (!process.env.npm_lifecycle_event || process.ppid === parent) return;
    clearInterval(watch);
    stop('SIGTERM');
  }, 200);
  watch.unref();
  child.on('error', (error) => giveUp(`Cannot start: ${error.message}`));
  child.on('exit', (code, signal) => ended(signal ? 1 : (code ?? 1), wasTold));
}

/** Replaces this process as far as Node can: same streams, signals passed on, same exit code. */
function handOver(args, cwd = root) {
  startBelow(args, cwd, (code) => process.exit(code));
}

/** Starts a part of the built program where the person stands, so that the paths they give are theirs. */
function handOverBuilt(file, args) {
  ensureBuilt();
  handOver([join(root, 'out', 'main', file), ...args], process.env.INIT_CWD ?? process.cwd());
}

/** The gates of `npm run check`, the longest first. */
const gates = {
  lint: () => tool('eslint', '.', '--max-warnings', '0', '--cache', '--cache-location', 'node_modules/.cache/eslint/'),
  components: () => tool('svelte-check', '--tsconfig', './src-renderer/tsconfig.components.json', '--fail-on-warnings'),
  types: () => tool('typescript', '-b'),
  layers: () =>
    tool('dependency-cruiser', '--config', '.dependency-cruiser.cjs', 'src-shared', 'src-main', 'src-renderer'),
  exports: () => tool('knip', '--no-progress'),
  format: () => tool('prettier', '--check', '--log-level', 'warn', '.'),
};

/** Runs one gate; says what it printed when it has ended, so that two at once do not talk into each other. */
function passes(name) {
  return new Promise((resolve) => {
    const child = spawn(pinnedNode, gates[name](), { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    const printed = [];
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => printed.push(chunk));
    child.on('error', (error) => giveUp(`Cannot check ${name}: ${error.message}`));
    child.on('close', (code) => {
      const isGreen = code === 0;
      say(`Checking ${name}: ${isGreen ? 'green' : 'RED'}`);
      if (!isGreen) process.stderr.write(Buffer.concat(printed));
      resolve(isGreen);
    });
  });
}

/** Runs the gates that are named, so many at once: true when all are green. Every one has its say, also after a red one. */
async function areGreen(names, atOnce) {
  const unknown = names.find((name) => !Object.hasOwn(gates, name));
  if (unknown !== undefined) giveUp(`There is no gate "${unknown}". Known: ${Object.keys(gates).join(', ')}.`);
  const waiting = [...names];
  let isGreen = true;
  const work = async () => {
    for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
      if (!(await passes(name))) isGreen = false;
    }
  };
  await Promise.all(Array.from({ length: atOnce }, work));
  return isGreen;
}

/** Runs the gates that are named, or all of them; ends this one when any is red. */
async function check(names = Object.keys(gates)) {
  if (!(await areGreen(names, 2))) process.exit(1);
}

/** Runs a tool on our streams to its end: true when it ended well. When it is told to stop, this ends with it. */
function endsWell(args) {
  return new Promise((resolve) => {
    startBelow(args, root, (code, wasTold) => (wasTold ? process.exit(1) : resolve(code === 0)));
  });
}

const verbs = {
  start: (args) => handOverBuilt('start.js', args),
  calc: (args) => handOverBuilt('calc.js', args),
  build: () => ensureBuilt(),
  package: (args) => {
    ensureBuilt();
    handOver(tool('electron-builder', '--config', join('src-main', 'host', 'desktop', 'packaging.ts'), ...args));
  },
  check: (args) => check(args.length > 0 ? args : undefined),
  format: (args) => handOver(tool('prettier', '--write', '--log-level', 'warn', '.', ...args)),
  bench: (args) => (ensureBuilt(), handOver([join('test', 'bench', 'run.ts'), ...args])),
  soak: (args) => (ensureBuilt(), handOver([join('test', 'soak', 'run.ts'), ...args])),
  test: async (args) => {
    ensureTestPrograms();
    const vitest = (...more) => tool('vitest', 'run', '--config', 'test/vitest.config.ts', ...more);
    if (args.length > 0) {
      await check();
      ensureBuilt();
      return handOver(vitest(...args));
    }
    ensureBuilt();
    // A walk through the whole program waits for meters and pages more than it computes, so one gate at a time has room
    // beside two of them. What computes all the time comes after, and has the cores for itself.
    const passed = await Promise.all([
      areGreen(Object.keys(gates), 1),
      endsWell(vitest('--project', 'e2e', '--maxWorkers', '2')),
    ]);
    if (passed.includes(false)) process.exit(1);
    handOver(vitest('--project', 'node', '--project', 'pure', '--project', 'browser'));
  },
};

const [verb, ...args] = process.argv.slice(2);
if (!Object.hasOwn(verbs, verb ?? '')) giveUp(`There is no step "${verb}". Known: ${Object.keys(verbs).join(', ')}.`);
ensureInstalled();
await verbs[verb](args);
