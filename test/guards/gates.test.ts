import { spawn } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { plants, type Plant } from './plants.ts';

const root = resolve(import.meta.dirname, '..', '..');

/** Settings and living files that stand beside the planted ones, where each file is judged by itself or by what it imports. */
const fewFiles = [
  ...readdirSync(root).filter((name) => statSync(join(root, name)).isFile()),
  'src-shared/tsconfig.json',
  'src-shared/quantity',
  'src-main/tsconfig.json',
  'src-main/host/connection.ts',
  'src-main/host/first-step.mjs',
  'src-main/host/desktop/preload/tsconfig.json',
  'src-renderer/tsconfig.json',
  'src-renderer/tsconfig.components.json',
  'src-renderer/frame/PlaceIcon.svelte',
  'test/tsconfig.json',
  'test/guards/plants.ts',
];

/** The folders of the sources as they are: who imports whom, and who is imported by nobody. */
const wholeTree = [...fewFiles, 'src-shared', 'src-main', 'src-renderer', 'test'];

/** What each gate is given to read: all of the sources again would take as long as the gate itself. */
const treeOf: Readonly<Record<Plant['gate'], readonly string[]>> = {
  format: fewFiles,
  types: fewFiles,
  components: fewFiles,
  lint: fewFiles,
  layers: wholeTree,
  exports: wholeTree,
};

/** A copy of a part of this tree, with its own caches and this tree's packages. */
function copyOf(paths: readonly string[]): string {
  const copy = mkdtempSync(join(tmpdir(), 'turnwright-gates-'));
  for (const path of paths) cpSync(join(root, path), join(copy, path), { recursive: true });
  mkdirSync(join(copy, 'node_modules'));
  for (const name of readdirSync(join(root, 'node_modules'))) {
    if (name !== '.cache') symlinkSync(join(root, 'node_modules', name), join(copy, 'node_modules', name));
  }
  return copy;
}

/** Plants what is for one gate alone: a reference to Node's types planted for lint would hide what is planted for types. */
function plant(gate: Plant['gate'], copy: string) {
  for (const { path, text, isAppended } of plants.filter((each) => each.gate === gate)) {
    mkdirSync(dirname(join(copy, path)), { recursive: true });
    if (isAppended) appendFileSync(join(copy, path), text);
    else writeFileSync(join(copy, path), text);
  }
}

interface Ran {
  readonly status: number | null;
  readonly said: string;
}

/** A gate exactly as `npm run check` runs it. */
function run(gate: Plant['gate'], copy: string): Promise<Ran> {
  return new Promise((done) => {
    const child = spawn(process.execPath, ['src-main/host/first-step.mjs', 'check', gate], {
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
    const copy = copyOf(treeOf[gate]);
    plant(gate, copy);
    ran = await run(gate, copy);
    rmSync(copy, { recursive: true });
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

it('there is a plant for every rule of the layers', () => {
  const { forbidden } = createRequire(import.meta.url)(join(root, '.dependency-cruiser.cjs')) as {
    forbidden: readonly { readonly name: string }[];
  };
  const planted = new Set(plants.filter(({ gate, says }) => gate === 'layers' && says !== '').map(({ says }) => says));
  expect(planted).toEqual(new Set(forbidden.map(({ name }) => name)));
});
