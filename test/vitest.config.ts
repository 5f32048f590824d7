import { svelte } from '@sveltejs/vite-plugin-svelte';
import { playwright } from '@vitest/browser-playwright';
import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { findBrowser, browserFlags } from './browser.ts';

const root = resolve(import.meta.dirname, '..');

export default defineConfig({
  root,
  test: {
    reporters: ['default'],
    projects: [
      {
        extends: true,
        test: {
          name: 'node',
          root,
          include: ['test/{shared,main,published,contract,faults,guards}/**/*.test.ts'],
          environment: 'node',
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        extends: true,
        plugins: [svelte({ configFile: false, compilerOptions: { runes: true } })],
        test: {
          name: 'browser',
          root,
          include: ['test/renderer/**/*.test.ts'],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: { executablePath: findBrowser(), args: [...browserFlags] } }),
            instances: [{ browser: 'chromium', viewport: { width: 1280, height: 800 } }],
          },
        },
      },
      {
        extends: true,
        test: {
          name: 'e2e',
          root,
          include: ['test/e2e/**/*.test.ts'],
          environment: 'node',
          testTimeout: 240_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
