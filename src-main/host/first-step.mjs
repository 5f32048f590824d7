// The first step of every npm script. Runs on the system's own Node (18 or newer), with no dependency, and makes a
// fresh clone ready: installs what is missing, builds when sources are newer, then hands over to the pinned Node.
// It speaks on standard error only, so that what a command prints on standard output is the command's own.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const pinnedNode = join(root, 'node_modules', 'node', 'bin', process.platform === 'win32' ? 'node.exe' : 'node');
const say = (line) => process.stderr.write(`${line}\n`);

/** Runs a program with its output on our standard error; ends this one with its exit code when it fails. */
function must(command, args, options = {}) {
  const done = spawnSync(command, args, { cwd: root, stdio: ['ignore', 2, 2], ...options });
  if (done.error) {
    say(`Cannot run ${command}: ${done.error.message}`);
    process.exit(1);
  }
  if (done.status !== 0) process.exit(done.status ?? 1);
}

/** The script behind an installed command, run on the pinned Node. */
function tool(name, ...args) {
  const folder = join(root, 'node_modules', ...name.split('/'));
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const file = typeof bin === 'string' ? bin : (bin[name.split('/').at(-1)] ?? Object.values(bin)[0]);
  return [join(folder, file), ...args];
}

function ensureInstalled() {
  const stamp = join(root, 'node_modules', '.turnwright-lock');
  const hash = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(pinnedNode) && existsSync(stamp) && readFileSync(stamp, 'utf8') === hash) return;
  say('Installing what is missing (once; a minute or so) ...');
  const npm = process.env.npm_execpath;
  const args = ['ci', '--loglevel=error', '--no-audit', '--no-fund'];
  if (npm) must(process.execPath, [npm, ...args]);
  else must(process.platform === 'win32' ? 'npm.cmd' : 'npm', args, { shell: process.platform === 'win32' });
  writeFileSync(stamp, hash);
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
  must(pinnedNode, tool('electron-vite', 'build', '--logLevel', 'warn'));
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, 'Written after a complete build; newer than every source that went into it.\n');
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

/** Replaces this process as far as Node can: same streams, signals passed on, same exit code. */
function handOver(args) {
  const child = spawn(pinnedNode, args, { cwd: root, stdio: 'inherit' });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
  child.on('error', (error) => {
    say(`Cannot start: ${error.message}`);
    process.exit(1);
  });
  child.on('exit', (code, signal) => process.exit(signal ? 1 : (code ?? 1)));
}

/** The gates of `npm run check`, in the order of how soon they answer. */
const gates = () => [
  ['format', tool('prettier', '--check', '--log-level', 'warn', '.')],
  ['types', tool('typescript', '-b')],
  [
    'types in components',
    tool('svelte-check', '--tsconfig', './src-renderer/tsconfig.components.json', '--fail-on-warnings'),
  ],
  [
    'layers',
    tool('dependency-cruiser', '--config', '.dependency-cruiser.cjs', 'src-shared', 'src-main', 'src-renderer'),
  ],
  ['dead exports', tool('knip', '--no-progress')],
  ['lint', tool('eslint', '.', '--max-warnings', '0', '--cache', '--cache-location', 'node_modules/.cache/eslint/')],
];

function check() {
  for (const [name, args] of gates()) {
    say(`Checking ${name} ...`);
    must(pinnedNode, args);
  }
}

const [verb, ...rest] = process.argv.slice(2);
const verbs = {
  start: () => (ensureBuilt(), handOver([join('out', 'main', 'local.js'), ...rest])),
  calc: () => (ensureBuilt(), handOver([join('out', 'main', 'calc.js'), ...rest])),
  build: () => ensureBuilt(),
  check: () => check(),
  format: () => handOver(tool('prettier', '--write', '--log-level', 'warn', '.', ...rest)),
  bench: () => (ensureBuilt(), handOver([join('test', 'bench', 'run.ts'), ...rest])),
  soak: () => (ensureBuilt(), handOver([join('test', 'soak', 'run.ts'), ...rest])),
  test: () => {
    ensureTestPrograms();
    check();
    ensureBuilt();
    handOver(tool('vitest', 'run', '--config', 'test/vitest.config.ts', ...rest));
  },
};
if (!(verb in verbs)) {
  say(`Unknown first step "${verb}". Known: ${Object.keys(verbs).join(', ')}.`);
  process.exit(2);
}
ensureInstalled();
verbs[verb]();
