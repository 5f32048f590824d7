import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { dataFolder, startProgram } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looks, openBrowser, openPage } from './browser.ts';
import { Person } from './person.ts';

const pictures = join(import.meta.dirname, 'pictures');

/** What is shown, in every theme and size; what axe says of it once in each theme. */
async function lookAt(page: Page, name: string): Promise<void> {
  mkdirSync(pictures, { recursive: true });
  for (const { theme, width, height } of looks) {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme: theme });
    await page.locator(`html[data-theme=${theme}]`).waitFor();
    if (width === 1280) await expectNoAxeFindings(page);
    await page.screenshot({ path: join(pictures, `${name}-${theme}-${width}x${height}.png`) });
  }
}

it('writes a need down, sees the shelf ranked for it, and begins a plan from it; joins two cores by tests', async () => {
  const folder = dataFolder();
  const program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  const browser = await openBrowser();
  try {
    const { page, errors } = await openPage(browser, program.url);
    const person = new Person(page);
    await person.arrive('Rowan');
    await person.go('Shelf');
    await person.press(/^Lay out the demonstration/);
    await page.getByRole('heading', { name: 'Dimmer core B' }).waitFor();

    await person.press('Write a need');
    const dialog = page.getByRole('dialog');
    await person.fill('Name', 'Foam cutters', dialog);
    await person.fill('Volts under load', '24', dialog);
    await person.fill('Amps at most', '9,5', dialog);
    await person.choose('It runs', 'On and off', dialog);
    await person.fill('Minutes on', '10', dialog);
    await person.fill('Minutes off', '20', dialog);
    await person.fill('Breaker of its circuit', '16', dialog);
    await person.fill('Volts of it', '230', dialog);
    await person.choose('Hertz', '50', dialog);
    await page.keyboard.press('Tab');
    await expectNoAxeFindings(page);
    await dialog.getByRole('button', { name: 'Keep this need' }).click();
    await dialog.waitFor({ state: 'detached' });

    const cores = page.getByRole('region', { name: 'Cores' });
    await cores.locator('[data-aspect=iron-and-window]').first().waitFor();
    expect(await cores.getByRole('heading', { level: 2 }).allTextContents()).toEqual([
      'Dimmer core A',
      'Dimmer core B',
    ]);
    expect(await cores.getByText('May do', { exact: true }).count()).toBe(1);
    expect(await cores.getByText('Not known', { exact: true }).count()).toBe(1);
    await lookAt(page, 'shelf-need');
    // It is remembered when the page is loaded anew.
    await page.reload();
    await cores.locator('[data-aspect=iron-and-window]').first().waitFor();
    await page.getByRole('link', { name: 'Plan it for this need: Dimmer core A' }).click();
    await page.getByRole('heading', { level: 1, name: /^Plan/ }).waitFor();
    expect(new URL(page.url()).hash).toMatch(/^#\/plan\/build-\d+\/need-\d+$/);

    await page.evaluate(() => {
      location.hash = '#/plan/several/parallel';
    });
    const volts = page.getByLabel('Volts with no load if known');
    await volts.nth(0).fill('24');
    await volts.nth(1).fill('24');
    await page.getByLabel('Read at step 3').fill('4,8');
    await page.getByText('They oppose: exchange the leads of Dimmer core B, and read again.').waitFor();
    await lookAt(page, 'several');
    expect(errors).toEqual([]);
  } finally {
    await browser.close();
    const code = await program.stop();
    folder.remove();
    expect(code).toBe(0);
  }
});
