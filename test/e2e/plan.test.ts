import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { dataFolder, startProgram } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looks, looksOnce, openBrowser, openPage } from './browser.ts';
import { Person } from './person.ts';

const pictures = join(import.meta.dirname, 'pictures');

/** A core with a primary that was counted while it was unwound and wound again. */
async function describeCore(person: Person): Promise<void> {
  await person.arrive('Rowan');
  await person.addCore('Dimmer core A');
  await person.press(/^Add the primary/);
  const dialog = person.page.getByRole('dialog');
  await person.choose('Turns', 'Counted', dialog);
  await person.fill('How many', '194', dialog);
  await person.fill('Bare wire diameter', '1,0', dialog);
  await person.choose('Metal', 'Copper', dialog);
  await person.fill('Resistance', '1.07', dialog);
  await person.fill('Winding temperature then', '21', dialog);
  await person.choose('Is one end joined to the core\\?', 'No', dialog);
  await dialog.getByRole('button').last().click();
  await dialog.waitFor({ state: 'detached' });
}

/** Keeps a plan, goes on with it after a reload, corrects the core under it, and takes the first version up again. */
async function keepAndComeBack(person: Person): Promise<void> {
  const { page } = person;
  const drawn = page.getByRole('img', { name: /One window to scale with \d+ turns/ });
  await person.go('Plan');
  await person.fill('Load volts', '24');
  await person.fill('Load amps', '9,5');
  await drawn.waitFor();
  await person.press('Keep this plan');
  await expectNoAxeFindings(page);
  await person.press('Keep as version 1');
  await page.getByText(/version 1 of [^;]*\.$/).waitFor();
  await person.fill('Load amps', '8');
  await page.keyboard.press('Tab');
  await page.getByText(/changed since/).waitFor();
  await page.keyboard.press('Control+z');
  await page.getByText(/version 1 of [^;]*\.$/).waitFor();
  await page.keyboard.press('Control+Shift+z');
  await page.getByText(/changed since/).waitFor();
  await page.reload();
  await drawn.waitFor();
  expect(await page.getByRole('textbox', { name: 'Load amps' }).inputValue()).toBe('8');
  await page.getByRole('link', { name: 'Dimmer core A' }).click();
  await page.getByRole('link', { name: 'Correct' }).click();
  await person.fill('Window width', '30');
  await person.fill('Why it is corrected', 'caliper read again');
  await page.locator('form button[type=submit]').click();
  await page.getByRole('heading', { level: 1, name: 'Dimmer core A' }).waitFor();
  await person.go('Plan');
  await page.getByText(/The core was corrected: window width .*caliper read again/).waitFor();
  await expectNoAxeFindings(page);
  await person.press('Take the room from the record');
  expect(await page.getByRole('textbox', { name: 'Underneath' }).inputValue()).not.toBe('');
  await person.press('Kept plans (1)');
  await expectNoAxeFindings(page);
  await person.press(/^Take up again/);
  expect(await page.getByRole('textbox', { name: 'Load amps' }).inputValue()).toBe('9,5');
}

it('plans a secondary for a core of the shelf, in every theme and size, with nothing that axe finds', async () => {
  mkdirSync(pictures, { recursive: true });
  const folder = dataFolder();
  const program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  const browser = await openBrowser();
  try {
    const first = await openPage(browser, program.url);
    await describeCore(new Person(first.page));
    await first.context.close();
    const kept = await openPage(browser, program.url);
    await keepAndComeBack(new Person(kept.page));
    expect(kept.errors).toEqual([]);
    await kept.context.close();
    for (const look of looks) {
      const { page, context, errors } = await openPage(browser, program.url, look);
      const person = new Person(page);
      await person.go('Plan');
      await person.fill('Load volts', '24');
      await person.fill('Load amps', '9,5');
      await page.getByRole('img', { name: /One window to scale with \d+ turns/ }).waitFor();
      if (looksOnce.includes(look)) await expectNoAxeFindings(page);
      await page.screenshot({ path: join(pictures, `plan-${look.theme}-${look.width}x${look.height}.png`) });
      await person.fill('Load volts', '60');
      await page.getByRole('heading', { name: 'Not planned' }).waitFor();
      if (looksOnce.includes(look)) await expectNoAxeFindings(page);
      expect(errors).toEqual([]);
      await context.close();
    }
  } finally {
    await browser.close();
    const code = await program.stop();
    folder.remove();
    expect(code).toBe(0);
  }
});
