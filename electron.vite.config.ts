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
          local: main('host/local-start.ts'),
          calc: main('command/calc.ts'),
        },
        output: { format: 'es' },
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
