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
    // The usual number leaves one of two cores idle; some tests wait for a port or a clock.
    maxWorkers: 3,
    // Hangs are ended by these; a busy machine is none.
    expect: { poll: { timeout: 30_000 } },
    projects: [
      {
        extends: true,
        test: {
          name: 'node',
          root,
          include: ['test/{main,contract,faults,guards}/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'pure',
          root,
          include: ['test/{shared,published,second-opinion}/**/*.test.ts'],
          // `src-shared` keeps nothing, so its tests need no program of their own each.
          isolate: false,
          environment: 'node',
          testTimeout: 120_000,
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
          testTimeout: 60_000,
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
          setupFiles: ['test/e2e/shown-on-failure.ts'],
          // What a page showed when a walk failed is told before the walk's own tidying up changes it.
          sequence: { hooks: 'list' },
          environment: 'node',
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
