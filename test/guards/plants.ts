/** One violation: a file that must turn a gate red, and what the gate must say of it. */
export interface Plant {
  readonly gate: 'format' | 'layers' | 'exports' | 'types' | 'components' | 'lint';
  readonly path: string;
  readonly text: string;
  /** Error code, rule or name that the gate reports for this file; empty for one that only helps another. */
  readonly says: string;
  /** Added to the end of a file that is there. */
  readonly isAppended?: true;
}

const file = (gate: Plant['gate'], path: string, says: string, ...lines: string[]): Plant => ({
  gate,
  path,
  says,
  text: `${lines.join('\n')}\n`,
});

const component = (script: string, markup: string) => [`<script lang="ts">\n  ${script}\n</script>\n\n${markup}`];

/** What each environment does not have, and what the strict flags forbid. */
const types: readonly Plant[] = [
  ...Object.entries({
    'node-module': ['TS2591', `import { readFileSync } from 'node:fs';`, 'export const planted = readFileSync;'],
    'node-global': ['TS2591', 'export const planted = process.pid;'],
    buffer: ['TS2591', `export const planted = Buffer.from('x');`],
    dom: ['TS2584', 'export const planted = document.title;'],
    console: ['TS2584', `console.log('planted');`, 'export const planted = 1;'],
    timer: ['TS2304', 'export const planted = setTimeout(() => undefined, 1);'],
    'text-decoder': ['TS2304', 'export const planted = new TextDecoder();'],
    performance: ['TS2304', 'export const planted = performance.now();'],
    fetch: ['TS2304', `export const planted = fetch('x');`],
    unchecked: ['TS2322', 'const list: readonly number[] = [];', 'export const planted: number = list[0];'],
    optional: ['TS2375', 'export const planted: { readonly at?: number } = { at: undefined };'],
    enum: ['TS1294', 'export enum Planted {', '  One,', '}'],
    'value-import': [
      'TS1484',
      `import { Estimate } from '../quantity/estimate.ts';`,
      'export type Planted = Estimate;',
    ],
    'no-return': ['TS7030', 'export function planted(at: number) {', '  if (at > 0) return 1;', '}'],
    unused: ['TS6133', 'const planted = 1;', 'export {};'],
  }).map(([name, [says = '', ...lines]]) => file('types', `src-shared/planted/${name}.ts`, says, ...lines)),
  file('types', 'src-main/planted/dom.ts', 'TS2584', 'export const planted = document.title;'),
  file('types', 'src-main/planted/window.ts', 'TS2304', 'export const planted = window;'),
  file('types', 'src-main/host/desktop/preload/planted-dom.ts', 'TS2584', 'export const planted = document.title;'),
  file('types', 'src-renderer/planted/node-global.ts', 'TS2591', 'export const planted = process.pid;'),
  file('types', 'src-renderer/planted/buffer.ts', 'TS2591', `export const planted = Buffer.from('x');`),
  file('types', 'test/shared/planted.ts', 'TS2322', `export const planted: number = 'x';`),
];

const components: readonly Plant[] = [
  file(
    'components',
    'src-renderer/planted/Script.svelte',
    'TS2322|not assignable',
    ...component(`const planted: number = 'x';`, '<p>{planted}</p>'),
  ),
  file(
    'components',
    'src-renderer/planted/Markup.svelte',
    'does not exist',
    ...component(`const planted = { at: 1 };`, '<p>{planted.from}</p>'),
  ),
  file(
    'components',
    'src-renderer/planted/Node.svelte',
    'Cannot find name',
    ...component('const planted = process.pid;', '<p>{planted}</p>'),
  ),
  file(
    'components',
    'src-renderer/planted/Picture.svelte',
    'a11y_missing_attribute',
    ...component(`const planted = './x.svg';`, '<img src={planted} />'),
  ),
];

const lint: readonly Plant[] = [
  ...Object.entries({
    any: ['@typescript-eslint/no-explicit-any', 'export const planted = (at: any) => typeof at;'],
    'non-null': [
      '@typescript-eslint/no-non-null-assertion',
      'export const planted = (at: string | null) => at!.length;',
    ],
    assertion: [
      '@typescript-eslint/consistent-type-assertions',
      'export const planted = (at: unknown) => at as string;',
    ],
    'angle-assertion': [
      '@typescript-eslint/consistent-type-assertions',
      'export const planted = (at: unknown) => <string>at;',
    ],
    barrel: ['no-restricted-syntax', `export * from '../quantity/estimate.ts';`],
    enumeration: ['no-restricted-syntax', 'export enum Planted {', '  One,', '}'],
    now: ['no-restricted-properties', 'export const planted = Date.now();'],
    'new-date': ['no-restricted-syntax', 'export const planted = new Date();'],
    'date-call': ['no-restricted-syntax', 'export const planted = Date();'],
    random: ['no-restricted-properties', 'export const planted = Math.random();'],
    'triple-slash': [
      '@typescript-eslint/triple-slash-reference',
      '/// <reference types="node" />',
      'export const planted = 1;',
    ],
    'host-word': ['no-restricted-globals', 'export const planted = typeof process;'],
    floating: ['@typescript-eslint/no-floating-promises', 'Promise.resolve(1);', 'export const planted = 1;'],
    loose: ['eqeqeq', 'export const planted = (at: number | string) => at == 1;'],
    open: [
      '@typescript-eslint/switch-exhaustiveness-check',
      `export function planted(at: 'one' | 'two') {`,
      '  switch (at) {',
      `    case 'one':`,
      '      return 1;',
      '  }',
      '  return 2;',
      '}',
    ],
  }).map(([name, [says = '', ...lines]]) => file('lint', `src-shared/planted/lint-${name}.ts`, says, ...lines)),
  file(
    'lint',
    'src-main/planted/lint-assertion.ts',
    '@typescript-eslint/consistent-type-assertions',
    'export const planted = (at: unknown) => at as string;',
  ),
  file(
    'lint',
    'src-renderer/planted/LintAssertion.svelte',
    '@typescript-eslint/consistent-type-assertions',
    ...component('const planted = (at: unknown) => at as string;', `<p>{planted('x')}</p>`),
  ),
  file(
    'lint',
    'src-renderer/planted/LintAny.svelte',
    '@typescript-eslint/no-explicit-any',
    ...component('const planted = (at: any) => typeof at;', `<p>{planted('x')}</p>`),
  ),
  file(
    'lint',
    'src-renderer/planted/LintHtml.svelte',
    'svelte/no-at-html-tags',
    ...component(`const planted = '<b>x</b>';`, '{@html planted}'),
  ),
  file(
    'lint',
    'src-renderer/planted/LintEach.svelte',
    'svelte/require-each-key',
    ...component('const planted = [1, 2];', '{#each planted as at}<p>{at}</p>{/each}'),
  ),
  file(
    'lint',
    'src-renderer/planted/LintMain.svelte',
    'no-restricted-imports',
    ...component(
      `import type { Connection } from '../../src-main/host/connection.ts';\n  let { planted }: { planted: Connection } = $props();`,
      '<p>{planted.bufferedAmount}</p>',
    ),
  ),
  file(
    'lint',
    'src-renderer/planted/LintLet.svelte',
    'svelte/prefer-const',
    ...component('let planted = 1;', '<p>{planted}</p>'),
  ),
  file(
    'lint',
    'src-renderer/planted/LintFloating.svelte',
    '@typescript-eslint/no-floating-promises',
    ...component(
      `import { planted } from './lint-promise.svelte.ts';\n  const act = () => {\n    planted.at;\n  };`,
      '<button onclick={act}>x</button>',
    ),
  ),
  file(
    'lint',
    'src-renderer/planted/lint-promise.svelte.ts',
    'svelte/no-unnecessary-state-wrap',
    `import { SvelteMap } from 'svelte/reactivity';`,
    'export const wrapped = $state(new SvelteMap<string, number>());',
    'class Planted {',
    '  at = $state(Promise.resolve(1));',
    '}',
    'export const planted = new Planted();',
  ),
  file(
    'lint',
    'src-renderer/planted/lint-module.svelte.ts',
    '@typescript-eslint/no-floating-promises',
    'let at = $state(Promise.resolve(1));',
    'export const planted = () => {',
    '  at;',
    '  at = Promise.resolve(2);',
    '};',
  ),
  file(
    'lint',
    'test/guards/lint-any.ts',
    '@typescript-eslint/no-explicit-any',
    'export const planted = (at: any) => typeof at;',
  ),
  file('lint', 'planted.mjs', 'no-undef', 'plantedName();'),
];

const importing = (path: string) => [`import '${path}';`, 'export const planted = 1;'];

/** One for every rule of the layers. */
const layers: readonly Plant[] = [
  file(
    'layers',
    'src-shared/quantity/planted-cycle-one.ts',
    'no-cycles',
    `import { two } from './planted-cycle-two.ts';`,
    'export const one: number = two + 1;',
  ),
  file(
    'layers',
    'src-shared/quantity/planted-cycle-two.ts',
    '',
    `import { one } from './planted-cycle-one.ts';`,
    'export const two: number = one + 1;',
  ),
  file('layers', 'src-main/planted/alone.ts', 'no-orphans', 'export const planted = 1;'),
  file('layers', 'src-main/planted/nowhere.ts', 'unresolvable', ...importing('./not-there.ts')),
  file('layers', 'src-shared/planted/layer-node.ts', 'shared-is-pure', ...importing('node:fs')),
  file('layers', 'src-shared/planted/layer-main.ts', 'shared-is-pure', ...importing('../../src-main/host/door.ts')),
  file('layers', 'src-shared/planted/layer-package.ts', 'shared-is-pure', ...importing('ws')),
  file(
    'layers',
    'src-shared/planted/layer-slash.ts',
    'shared-is-pure',
    '/// <reference path="../../src-main/host/door.ts" />',
    ...importing('../quantity/estimate.ts'),
  ),
  file(
    'layers',
    'src-shared/planted/layer-type.ts',
    'shared-is-pure',
    `import type { Door } from '../../src-main/host/door.ts';`,
    'export type Planted = Door;',
  ),
  file('layers', 'src-shared/quantity/planted-up.ts', 'quantities-at-the-bottom', ...importing('../record/field.ts')),
  file(
    'layers',
    'src-shared/meter/planted-up.ts',
    'calculations-know-only-quantities',
    ...importing('../contract/failure.ts'),
  ),
  file('layers', 'src-shared/record/planted-up.ts', 'contract-on-top', ...importing('../contract/failure.ts')),
  file('layers', 'src-renderer/planted/layer-main.ts', 'renderer-draws', ...importing('../../src-main/host/door.ts')),
  file(
    'layers',
    'src-renderer/planted/LayerSocket.svelte',
    'renderer-draws',
    ...component(`import WebSocket from 'ws';`, '<p>{WebSocket.name}</p>'),
  ),
  file('layers', 'src-renderer/planted/layer-node.ts', 'renderer-has-no-node', ...importing('node:fs')),
  file('layers', 'src-main/planted/layer-page.ts', 'main-does-not-draw', ...importing('../../src-renderer/main.ts')),
  file(
    'layers',
    'src-main/host/planted-database.ts',
    'only-the-store-knows-the-database',
    ...importing('better-sqlite3'),
  ),
  file(
    'layers',
    'src-main/host/planted-port.ts',
    'only-the-meter-folder-knows-serial-ports',
    ...importing('serialport'),
  ),
  file('layers', 'src-main/store/planted-app.ts', 'only-hosts-compose', ...importing('../app.ts')),
  file('layers', 'src-main/host/planted-electron.ts', 'only-the-desktop-host-knows-electron', ...importing('electron')),
  file(
    'layers',
    'src-main/host/desktop/preload/planted-path.ts',
    'preload-requires-only-electron',
    ...importing('node:path'),
  ),
  file('layers', 'src-renderer/page/planted-chart.ts', 'one-file-knows-the-chart', ...importing('uplot')),
];

const exported: readonly Plant[] = [
  file('exports', 'src-shared/planted/dead-file.ts', 'Unused files', 'export const plantedInDeadFile = 1;'),
  {
    ...file(
      'exports',
      'src-shared/quantity/assert-never.ts',
      'plantedDeadExport',
      '',
      'export const plantedDeadExport = 1;',
    ),
    isAppended: true,
  },
  {
    ...file('exports', 'src-main/host/door.ts', 'Unlisted dependencies', '', `import 'acorn';`),
    isAppended: true,
  },
];

const format: readonly Plant[] = [
  file('format', 'src-shared/planted/crooked.ts', 'crooked.ts', 'export const planted={at:1}'),
  file('format', 'src-renderer/planted/Crooked.svelte', 'Crooked.svelte', '<p   >x</p>'),
  file('format', 'planted.json', 'planted.json', '{"at":1,', '', '', '"to":2}'),
];

export const plants: readonly Plant[] = [...types, ...components, ...lint, ...layers, ...exported, ...format];
