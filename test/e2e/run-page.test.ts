import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { unharmed } from '../../src-shared/report/csv.ts';
import { eightChannels, longReading, openBenchStore, startLongRun, value } from '../bench/long-run.ts';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { readCsv } from '../shared/report/csv-reader.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looksOnce, openBrowser, openPage } from './browser.ts';

const minutes = 20;
let browser: Browser;
let folder: ReturnType<typeof dataFolder>;
let program: Program;
let context: BrowserContext;
let page: Page;
let errors: string[];
let runId: number;

/** A run of eight channels with a spike of one reading, ended, in the record that the program is then started on. */
async function makeRun(): Promise<number> {
  let wall = Date.UTC(2031, 2, 14, 9);
  const store = await openBenchStore(folder.path, () => (wall += 1));
  const run = startLongRun(store, eightChannels);
  let readingId = 0;
  for (let minute = 0; minute < minutes; minute += 1) {
    const readings = Array.from({ length: 60 }, (_, second) =>
      eightChannels.map(({ around }, channel) =>
        longReading(run, ++readingId, channel, (minute * 60 + second) * 1000, around),
      ),
    ).flat();
    value(store.readings.writeBatch({ readings, events: [] }));
  }
  const spike = longReading(run, ++readingId, 5, minutes * 60_000, 0.7);
  value(store.readings.writeBatch({ readings: [{ ...spike, value: 4.9, text: '=4.9' }], events: [] }));
  value(store.runs.end(run.runId, 'ended'));
  const { settings } = store;
  value(settings.save({ ...settings.get(), who: 'Rowan' }));
  store.close();
  return run.runId;
}

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  folder = dataFolder();
  runId = await makeRun();
  program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  ({ page, context, errors } = await openPage(browser, program.url));
});
afterEach(async () => {
  await context.close();
  const code = await program.stop();
  folder.remove();
  expect({ errors, code, misfits: /does not fit/.test(program.said()) }).toEqual({
    errors: [],
    code: 0,
    misfits: false,
  });
});

/** The page of the run, by way of its core, with its chart drawn. */
async function goToRun(on: Page): Promise<void> {
  await on.getByRole('navigation').getByRole('link', { name: 'Shelf' }).click();
  await on.getByRole('link', { name: 'Dimmer core B' }).first().click();
  await on.getByRole('region', { name: 'Runs' }).getByRole('link').first().click();
  await on.locator('.plot canvas').first().waitFor();
  await on.getByRole('button', { name: /^Secondary amps/ }).waitFor();
}

it('shows a run found by its core, and gives it away as a file of every reading and as a sheet for paper', async () => {
  await goToRun(page);
  const asked = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Readings as CSV' }).click();
  const csv = await asked;
  expect(csv.suggestedFilename()).toBe(`dimmer-core-b-loaded-run-run-${runId}.csv`);
  const [heads = [], ...rows] = readCsv(readFileSync(await csv.path(), 'utf8').replace(/^\ufeff/, ''));
  expect(rows).toHaveLength(minutes * 60 * eightChannels.length + 1);
  const last = rows.at(-1) ?? [];
  expect(last[heads.indexOf('text as sent')]).toBe("'=4.9");
  expect(unharmed(last[heads.indexOf('text as sent')] ?? '')).toBe('=4.9');
  expect(last[heads.findIndex((head) => /^Secondary volts \(V\)$/.test(head))]).toBe('4.9');

  const askedAgain = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Run sheet' }).click();
  const sheet = await askedAgain;
  const path = join(folder.path, 'sheet.html');
  await sheet.saveAs(path);
  await page.getByText('is with your browser’s downloads').waitFor();

  // The sheet stands alone: opened from the disk it fetches nothing, runs nothing and shows its charts.
  const alone = await browser.newContext();
  const reader = await alone.newPage();
  const requests: string[] = [];
  reader.on('request', (request) => requests.push(request.url()));
  await reader.goto(pathToFileURL(path).href);
  expect(requests).toEqual([pathToFileURL(path).href]);
  expect(await reader.locator('svg.chart').count()).toBe(1);
  expect(await reader.locator('script').count()).toBe(0);
  await expectNoAxeFindings(reader);
  await alone.close();
});

it('is whole in both themes and sizes: no findings of axe, and the page fits its width', async () => {
  for (const look of looksOnce) {
    const visit = await openPage(browser, program.url, look);
    await goToRun(visit.page);
    await visit.page.getByRole('button', { name: 'As a table' }).first().click();
    await expectNoAxeFindings(visit.page);
    const overflow = await visit.page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overflow).toBeLessThanOrEqual(0);
    expect(visit.errors).toEqual([]);
    await visit.context.close();
  }
});
