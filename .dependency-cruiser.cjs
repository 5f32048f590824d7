/** Which folder may use which: the arrows of the house. The compiler keeps most of it; this keeps the rest. */
module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'no-orphans',
      severity: 'error',
      from: { orphan: true, pathNot: '\\.(d\\.ts|config\\.ts)$|^test/' },
      to: {},
    },
    { name: 'unresolvable', severity: 'error', from: {}, to: { couldNotResolve: true, pathNot: '\\?raw$|\\.svelte$' } },
    {
      name: 'shared-is-pure',
      comment: 'src-shared reads no clock, file, port or page: only itself and pure libraries',
      severity: 'error',
      from: { path: '^src-shared' },
      to: { pathNot: '^src-shared|node_modules/(valibot|ml-matrix|@stdlib)/' },
    },
    {
      name: 'quantities-at-the-bottom',
      severity: 'error',
      from: { path: '^src-shared/quantity' },
      to: { path: '^src-shared/(?!quantity)' },
    },
    {
      name: 'calculations-know-only-quantities',
      severity: 'error',
      from: { path: '^src-shared/(calculation|meter)/' },
      to: { path: '^src-shared/(procedure|interlock|record|contract)/' },
    },
    {
      name: 'contract-on-top',
      severity: 'error',
      from: { path: '^src-shared/(?!contract)' },
      to: { path: '^src-shared/contract' },
    },
    {
      name: 'renderer-draws',
      severity: 'error',
      from: { path: '^src-renderer' },
      to: { path: '^(src-main|test)|node_modules/(better-sqlite3|serialport|@serialport|ws|electron)/' },
    },
    {
      name: 'renderer-has-no-node',
      severity: 'error',
      from: { path: '^src-renderer' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'main-does-not-draw',
      severity: 'error',
      from: { path: '^src-main' },
      to: { path: '^(src-renderer|test)' },
    },
    {
      name: 'only-the-store-knows-the-database',
      severity: 'error',
      from: { path: '^src-main/(?!store|jobs)' },
      to: { path: 'node_modules/better-sqlite3/' },
    },
    {
      name: 'only-the-meter-folder-knows-serial-ports',
      severity: 'error',
      from: { path: '^src-main/(?!meter)' },
      to: { path: 'node_modules/(serialport|@serialport)/' },
    },
    {
      name: 'only-hosts-compose',
      severity: 'error',
      from: { path: '^src-main/(?!host)' },
      to: { path: '^src-main/app\\.ts$' },
    },
    {
      name: 'only-the-desktop-host-knows-electron',
      severity: 'error',
      from: { path: '^src-main/(?!host/desktop/)' },
      to: { path: 'node_modules/electron(-builder)?/|^src-main/host/desktop/' },
    },
    {
      name: 'preload-requires-only-electron',
      comment: 'a sandboxed script has no modules; what it shares with the page and the program is names',
      severity: 'error',
      from: { path: '^src-main/host/desktop/preload/' },
      to: { pathNot: 'node_modules/electron/|^src-shared/contract/(shell-bridge|shell-channels)\\.ts$' },
    },
    {
      name: 'one-file-knows-the-chart',
      severity: 'error',
      from: { path: '^src-renderer/(?!part/chart/)' },
      to: { path: 'node_modules/uplot/' },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(out|node_modules/\\.cache)' },
    tsConfig: { fileName: 'test/tsconfig.json' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.js', '.mjs', '.svelte'],
      conditionNames: ['import', 'node', 'default', 'types', 'svelte'],
      exportsFields: ['exports'],
    },
  },
};
