import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'electron-vite';
import { resolve } from 'node:path';

const native = ['electron', 'better-sqlite3', 'serialport', /^@serialport\//, 'ws'];
const main = (path: string) => resolve(import.meta.dirname, 'src-main', path);

export default defineConfig({
  main: {
    build: {
      outDir: 'out/main',
      // Everything but what must be loaded from its own folder is bundled: less to find and read at every start.
      externalizeDeps: false,
      sourcemap: true,
      rolldownOptions: {
        external: native,
        input: {
          start: main('host/start.ts'),
          local: main('host/local-start.ts'),
          desktop: main('host/desktop/desktop-start.ts'),
          calc: main('command/calc.ts'),
          'jobs-worker': main('jobs/jobs-worker.ts'),
        },
        output: { format: 'es' },
      },
    },
  },
  preload: {
    build: {
      outDir: 'out/preload',
      // A sandboxed preload script has no modules: one file that asks for nothing but `electron`.
      externalizeDeps: false,
      rolldownOptions: {
        input: main('host/desktop/preload/preload.ts'),
        output: { format: 'cjs', entryFileNames: 'preload.cjs' },
      },
    },
  },
  renderer: {
    root: 'src-renderer',
    base: './',
    plugins: [
      svelte({
        configFile: false,
        compilerOptions: { runes: true },
      }),
    ],
    build: {
      outDir: 'out/renderer',
      minify: true,
      // The page's policy allows its own files and no data addresses.
      assetsInlineLimit: 0,
      rolldownOptions: { input: resolve(import.meta.dirname, 'src-renderer/index.html') },
    },
  },
});
