import { spawn } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { plants, type Plant } from './plants.ts';

const root = resolve(import.meta.dirname, '..', '..');
const copy = mkdtempSync(join(tmpdir(), 'turnwright-gates-'));
const leftOut = new Set(['node_modules', 'out', '.git', '.cache']);

/** The tree as it is, with its own caches and this tree's packages. */
function copyTree() {
  for (const name of readdirSync(root)) {
    if (!leftOut.has(name)) cpSync(join(root, name), join(copy, name), { recursive: true });
  }
  mkdirSync(join(copy, 'node_modules'));
  for (const name of readdirSync(join(root, 'node_modules'))) {
    if (name !== '.cache') symlinkSync(join(root, 'node_modules', name), join(copy, 'node_modules', name));
  }
  writeFileSync(
    join(copy, fewComponents),
    JSON.stringify({ extends: './tsconfig.components.json', include: ['planted/**/*', 'frame/**/*', '*.d.ts'] }),
  );
}

/** The components that are read beside the planted ones, under the same flags as all of them. */
const fewComponents = 'src-renderer/tsconfig.few.json';

/** Plants what is for one gate alone: a reference to Node's types planted for lint would hide what is planted for types. */
function plant(gate: Plant['gate']) {
  for (const { path, text, isAppended } of plants.filter((each) => each.gate === gate)) {
    mkdirSync(dirname(join(copy, path)), { recursive: true });
    if (isAppended) appendFileSync(join(copy, path), text);
    else writeFileSync(join(copy, path), text);
  }
}

/** Puts every planted file back as it is in the tree. */
function weed(gate: Plant['gate']) {
  for (const { path } of plants.filter((each) => each.gate === gate)) {
    rmSync(join(copy, path));
    if (existsSync(join(root, path))) cpSync(join(root, path), join(copy, path));
  }
}

interface Ran {
  readonly status: number | null;
  readonly said: string;
}

/** Living files that are read beside the planted ones: all of them again would take as long as the gate itself. */
const readBeside = ['src-shared/quantity', 'src-main/host', 'src-renderer/frame', 'test/guards/plants.ts'];

/** A gate exactly as `npm run check` runs it, but for those that read file by file: they are given less to read. */
function commandOf(gate: Plant['gate']): readonly string[] {
  const files = [...plants.filter((plant) => plant.gate === gate).map(({ path }) => path), ...readBeside];
  switch (gate) {
    case 'lint':
      return ['node_modules/eslint/bin/eslint.js', '--max-warnings', '0', ...files];
    case 'format':
      return ['node_modules/prettier/bin/prettier.cjs', '--check', '--log-level', 'warn', ...files];
    case 'components':
      return ['node_modules/svelte-check/bin/svelte-check', '--tsconfig', fewComponents, '--fail-on-warnings'];
    default:
      return ['src-main/host/first-step.mjs', 'check', gate];
  }
}

function run(gate: Plant['gate']): Promise<Ran> {
  return new Promise((done) => {
    const child = spawn(process.execPath, commandOf(gate), {
      cwd: copy,
      env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: '0' },
    });
    const parts: Buffer[] = [];
    child.stdout.on('data', (part: Buffer) => parts.push(part));
    child.stderr.on('data', (part: Buffer) => parts.push(part));
    child.on('close', (status) => {
      done({ status, said: Buffer.concat(parts).toString().replaceAll('\\', '/').replaceAll(`${copy}/`, '') });
    });
  });
}

const isPlanted = (path: string) => plants.some((plant) => plant.path === path);

/** What a gate said of each file: its lines, by path. */
const readers: Readonly<Record<Plant['gate'], (said: string) => Map<string, string>>> = {
  format: (said) =>
    gather([...said.matchAll(/^\[(?:warn|error)\] (\S+\.\w+)(.*)$/gm)].map(([line, path]) => [path, line])),
  types: (said) =>
    gather([...said.matchAll(/^(\S+?)\(\d+,\d+\): (error .*)$/gm)].map(([, path, line]) => [path, line])),
  components: (said) =>
    gather(
      [...said.matchAll(/^(\S+):\d+:\d+\n((?:Error|Warn)[\s\S]*?)\n\n/gm)].map(([, path, lines]) => [path, lines]),
    ),
  lint: (said) =>
    gather(
      [...said.matchAll(/^(\S+\.\w+)\n((?: +\d+:\d+ .*\n(?:(?! +\d+:\d+ |\n).*\n)*)+)/gm)].map(([, path, lines]) => [
        path,
        lines,
      ]),
    ),
  layers: (said) => gather([...said.matchAll(/^ *(error [\w-]+): (\S+\.\w+)/gm)].map(([, rule, path]) => [path, rule])),
  exports: readExports,
};

function gather(found: readonly (readonly [string | undefined, string | undefined])[]): Map<string, string> {
  const said = new Map<string, string>();
  for (const [path = '', line = ''] of found) said.set(path, `${said.get(path) ?? ''}${line}\n`);
  return said;
}

/** Knip lists paths and names under titles; the path is the last word that looks like one. */
function readExports(said: string): Map<string, string> {
  let title = '';
  const found: [string, string][] = [];
  for (const line of said.split('\n')) {
    const [, named] = /^([A-Z][\w ]+) \(\d+\)/.exec(line) ?? [];
    if (named !== undefined) title = named;
    const path = line.match(/\S+\.(?:ts|svelte|mjs|js)\b/g)?.at(-1);
    if (named === undefined && path !== undefined && !title.startsWith('Configuration'))
      found.push([path, `${title}: ${line}`]);
  }
  return gather(found);
}

const gateNames = ['format', 'layers', 'exports', 'types', 'components', 'lint'] as const;

describe.each(gateNames)('the gate %s', (gate) => {
  let ran: Ran;
  let found: Map<string, string>;

  beforeAll(async () => {
    plant(gate);
    ran = await run(gate);
    weed(gate);
    found = readers[gate](ran.said);
  }, 300_000);

  it('is red', () => {
    expect(ran.status, ran.said.slice(-2000)).not.toBe(0);
    expect(found.size, ran.said.slice(0, 2000)).toBeGreaterThan(0);
  });

  it.each(plants.filter((plant) => plant.gate === gate).map(({ path, says }) => [path, says]))(
    'sees %s: %s',
    (path, says) => {
      expect(found.get(path) ?? '', ran.said.slice(0, 3000)).toMatch(new RegExp(says));
    },
  );

  it('is green for everything else', () => {
    expect(Object.fromEntries([...found].filter(([path]) => !isPlanted(path)))).toEqual({});
  });
});

beforeAll(() => {
  copyTree();
});

afterAll(() => {
  rmSync(copy, { recursive: true });
});

it('there is a plant for every rule of the layers', () => {
  const { forbidden } = createRequire(import.meta.url)(join(root, '.dependency-cruiser.cjs')) as {
    forbidden: readonly { readonly name: string }[];
  };
  const planted = new Set(plants.filter(({ gate, says }) => gate === 'layers' && says !== '').map(({ says }) => says));
  expect(planted).toEqual(new Set(forbidden.map(({ name }) => name)));
});
