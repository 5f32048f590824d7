import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looksOnce, openBrowser, openPage } from './browser.ts';
import { Person } from './person.ts';

let browser: Browser;
let folder: ReturnType<typeof dataFolder>;
let program: Program;

beforeAll(async () => {
  browser = await openBrowser();
  folder = dataFolder();
  program = await startProgram({ dataFolder: folder.path });
});
afterAll(async () => {
  await browser.close();
  await program.stop();
  folder.remove();
});

it('opens a calculation by keyboard alone, answers while it is typed, and keeps the inputs over a reload', async () => {
  const { page, context, errors } = await openPage(browser, program.url);
  await new Person(page).arrive('Rowan');
  await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Workings' }).click();
  await page.getByRole('heading', { level: 1, name: 'Workings' }).waitFor();
  await page.keyboard.press('/');
  await page.keyboard.type('joint gap');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1, name: 'The gap that a joint has added' }).waitFor();
  await page.getByLabel('Turns that carry the current', { exact: true }).fill('120');
  await page.getByLabel('Added magnetising current, r.m.s.', { exact: true }).fill('500 mA');
  await page.getByLabel('Peak flux density', { exact: true }).fill('1,5');
  const result = page.getByRole('region', { name: 'Result' });
  // Ampere's law, g = µ0 N I sqrt(2) / B, worked by hand: 4e-7 π × 120 × 0.5 × 1.41421 / 1.5 = 0.07109 mm.
  await result.getByText('0.0710861').waitFor();
  await page.waitForURL(/#\/workings\/joint-gap\/[\w-]+$/);
  await page.reload();
  await result.getByText('0.0710861').waitFor();
  expect(await page.getByLabel('Peak flux density', { exact: true }).inputValue()).toBe('1,5');
  expect(errors).toEqual([]);
  await context.close();
});

it('is free of findings by axe in both themes and sizes, with lists, refusals and pictures in view', async () => {
  // The long forms are looked at in one theme and size each: axe takes its time over them.
  const looked = [
    ['heat-run', 'secondary'],
    ['test-coil', 'excitation'],
  ];
  for (const [index, look] of looksOnce.entries()) {
    const { page, context, errors } = await openPage(browser, program.url, look);
    await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Workings' }).click();
    await page.getByRole('heading', { level: 1, name: 'Workings' }).waitFor();
    await expectNoAxeFindings(page);
    for (const name of looked[index] ?? []) {
      await page.evaluate((hash) => (location.hash = hash), `#/workings/${name}`);
      await page.getByRole('button', { name: 'Start from the example' }).click();
      await page.getByRole('heading', { level: 2, name: 'Working' }).waitFor();
      await expectNoAxeFindings(page);
    }
    await page.evaluate(() => (location.hash = '#/workings/polarity'));
    await page.getByLabel('Volts of the first winding alone', { exact: true }).fill('no number');
    await page.getByRole('button', { name: 'Go to it' }).waitFor();
    await expectNoAxeFindings(page);
    expect(errors).toEqual([]);
    await context.close();
  }
});
