import Database from 'better-sqlite3';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { pageOf } from '../live-bench.ts';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { build, core, cutter, sheetParts } from '../shared/report/plan-fixture.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looks, openBrowser, openPage } from './browser.ts';

const pictures = join(import.meta.dirname, 'pictures');
const folder = dataFolder();
let browser: Browser;
let program: Program;
let coreId: number;

/** A core with a primary, a kept plan of two outputs, and a next build to compare with. */
async function furnish(): Promise<void> {
  const { ask } = await pageOf(program);
  const { settings } = await ask('app.present', {});
  await ask('settings.save', { settings: { ...settings, who: 'Rowan' } });
  ({ coreId } = await ask('core.save', { fields: core.fields }));
  const [primary] = build.windings;
  if (primary === undefined) throw new Error('The fixture has a primary.');
  const buildId = (await ask('core.get', { coreId })).builds[0]?.buildId ?? 0;
  await ask('winding.save', { buildId, fields: primary.fields });
  const whole = await ask('core.get', { coreId });
  const fan = { ...cutter, key: 'b', label: 'Fan', taps: [] };
  const rests = {
    coreRevisionId: whole.core.revisionId,
    windingRevisionIds: whole.builds[0]?.windings.map(({ revisionId }) => revisionId) ?? [],
    resultIds: [],
  };
  const { fields } = sheetParts({}, { outputs: [cutter, fan] }).version;
  await ask('plan.save', { buildId, fields: { ...fields, rests } });
  const windings = [{ ...primary.fields, turns: { kind: 'counted', turns: 250 } as const, turnsAdded: 10 }];
  await ask('build.add', { coreId, fields: { ...build.fields, title: '10 turns added' }, windings });
}

beforeAll(async () => {
  browser = await openBrowser();
  program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  await furnish();
});
afterAll(async () => {
  await browser.close();
  await program.stop();
  folder.remove();
});

/** Presses a button that makes a file, and gives what the browser was sent. */
async function fetched(page: Page, button: string): Promise<{ name: string; text: string }> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).first().click();
  const file = await download;
  const chunks: Buffer[] = [];
  for await (const chunk of await file.createReadStream()) chunks.push(Buffer.from(chunk as Uint8Array));
  return { name: file.suggestedFilename(), text: Buffer.concat(chunks).toString('utf8') };
}

it('gives the sheet to build by from the page of its core, on one leaf of either paper, and that of a comparison', async () => {
  const { page, context, errors } = await openPage(browser, program.url);
  await page.getByRole('link', { name: 'Dimmer core B' }).first().click();
  const sheet = await fetched(page, 'Build sheet');
  expect(sheet.name).toBe('dimmer-core-b-foam-cutter-supply-build-sheet-version-1.html');
  await page.getByRole('link', { name: 'Compare with build 1' }).click();
  const comparison = await fetched(page, 'Sheet to print');
  expect(comparison.name).toBe('dimmer-core-b-builds-1-2.html');
  for (const { text } of [sheet, comparison]) {
    const paper = await context.newPage();
    await paper.setContent(text);
    await expectNoAxeFindings(paper);
    await paper.emulateMedia({ media: 'print', colorScheme: 'dark' });
    expect(await paper.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe('rgb(255, 255, 255)');
    for (const format of ['A4', 'Letter']) {
      const pdf = (await paper.pdf({ format, preferCSSPageSize: false })).toString('latin1');
      const pages = pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      expect(pages, format).toBeLessThanOrEqual(2);
    }
    // Nothing may stand beyond the edge of the paper: 186 mm of A4 between its margins.
    await paper.setViewportSize({ width: 703, height: 1000 });
    expect(await paper.evaluate(() => document.documentElement.scrollWidth)).toBe(703);
  }
  expect(errors).toEqual([]);
  await context.close();
});

/** To the count of the plan, by way of its core. */
async function goToCount(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Dimmer core B' }).first().click();
  await page.getByRole('link', { name: 'Count turns' }).click();
  // What is added to the primary comes first.
  await page.getByRole('link', { name: /^Cutter/ }).click();
  await page.getByRole('heading', { name: 'Cutter' }).waitFor();
  await page.locator('[data-count]').waitFor();
}

it('counts turns by quick keys in every look, keeps each in the record, and goes on after the program was killed', async () => {
  const { page, context, errors } = await openPage(browser, program.url);
  const shown = (on: Page) => on.locator('[data-shown]').textContent();
  const allStored = () => expect.poll(() => page.evaluate(() => localStorage.getItem('turnwright.tally.1'))).toBeNull();
  await goToCount(page);
  for (const { theme, width, height } of looks) {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme: theme });
    for (let press = 0; press < 3; press += 1) await page.keyboard.press('Space');
    await expectNoAxeFindings(page);
    await page.screenshot({ path: join(pictures, `tally-${theme}-${width}x${height}.png`) });
    const rooms = await page.evaluate(() => {
      const main = document.querySelector('main');
      return { needed: main?.scrollHeight, there: main?.clientHeight };
    });
    expect(rooms.needed, `${width}`).toBe(rooms.there);
  }
  await allStored();
  expect(errors).toEqual([]);
  await page.reload();
  await expect.poll(() => shown(page)).toBe('12');
  await page.keyboard.press('Enter');
  await allStored();
  // In the middle of quick presses the program is gone: those after it wait in the page, and it says so.
  const killed = program.kill();
  for (let press = 0; press < 5; press += 1) await page.keyboard.press('Space');
  await killed;
  await expect.poll(() => shown(page)).toBe('18');
  await page.getByText(/wait here and will be stored|waits here and will be stored/).waitFor();
  await context.close();
  program = await startProgram({ dataFolder: folder.path });
  const again = await openPage(browser, program.url);
  await goToCount(again.page);
  const stored = Number(await shown(again.page));
  await again.context.close();
  expect(stored).toBeGreaterThanOrEqual(13);
  expect(stored).toBeLessThanOrEqual(18);
  // Every press is a row with its own total: none is missing and none is there twice.
  const database = new Database(join(folder.path, 'record.sqlite'), { readonly: true });
  const rows = database.prepare('SELECT turns FROM tally_mark ORDER BY tally_mark_id').pluck().all();
  database.close();
  expect(rows).toEqual(Array.from({ length: stored }, (_, index) => index + 1));
});
