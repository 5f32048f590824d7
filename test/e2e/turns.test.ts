import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { openPtyPair, type PtyPair } from '../main/meter/pty-pair.ts';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looks, looksOnce, openBrowser, openPage } from './browser.ts';
import { Person, type Range } from './person.ts';

const pictures = join(import.meta.dirname, 'pictures');
const range200: Range = { upTo: '200', lastDigit: '0,1', percent: '1,2', digits: '5' };
const range20: Range = { upTo: '20', lastDigit: '0.001', percent: '0.8', digits: '5' };
const mains = { kind: /^Mains *Only/, volts: '120', hertz: '60' };

let browser: Browser;
let folder: ReturnType<typeof dataFolder>;
let program: Program;
let context: BrowserContext;
let page: Page;
let errors: string[];
let person: Person;
let pairs: PtyPair[];
let streaming: NodeJS.Timeout[];
let hasPower: boolean;

/** A meter on a pseudo terminal: five lines a second, of the bench as it is. */
async function meter(line: () => string): Promise<string> {
  const pair = await openPtyPair();
  pairs.push(pair);
  streaming.push(setInterval(() => void pair.write(`${line()}\r\n`), 200));
  return pair.programEnd;
}

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await openBrowser();
});
afterAll(() => browser.close());

beforeEach(async () => {
  [pairs, streaming, hasPower] = [[], [], false];
  folder = dataFolder();
  program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  ({ page, context, errors } = await openPage(browser, program.url));
  person = new Person(page);
  await person.arrive('Rowan');
  await person.addCore('Dimmer core A');
  await person.addPrimary();
});
afterEach(async () => {
  await context.close();
  for (const timer of streaming) clearInterval(timer);
  const code = await program.stop();
  for (const pair of pairs) await pair.close();
  folder.remove();
  expect({ errors, code, misfits: /does not fit|misfit/.test(program.said()) }).toEqual({
    errors: [],
    code: 0,
    misfits: false,
  });
});

/** The same program in every theme and size, its picture kept; axe finds nothing in both themes and sizes. */
async function lookAt(name: string, go: (one: Person) => Promise<void>): Promise<void> {
  for (const look of looks) {
    const visit = await openPage(browser, program.url, look);
    await go(new Person(visit.page));
    await visit.page.waitForTimeout(500);
    if (looksOnce.includes(look)) await expectNoAxeFindings(visit.page);
    await visit.page.screenshot({ path: join(pictures, `${name}-${look.theme}-${look.width}x${look.height}.png`) });
    expect(visit.errors).toEqual([]);
    await visit.context.close();
  }
}

/** The page of the core shows these turns on its primary. */
async function isApplied(turns: RegExp): Promise<void> {
  await person.go('Shelf');
  await page
    .getByRole('link', { name: /Dimmer core A/ })
    .first()
    .click();
  await page
    .getByRole('row', { name: /Primary turns/ })
    .filter({ hasText: turns })
    .waitFor();
}

it('finds the turns with two streaming meters on a mains-fed bench, from an empty folder to a saved result', async () => {
  const primaryPort = await meter(() => (hasPower ? '118.6 V' : '000.0 V'));
  const coilPort = await meter(() => (hasPower ? '+9.870E+00 VAC' : '+0.000E+00 VAC'));
  await person.describeMeter({ name: 'Bench meter', port: primaryPort, ranges: [range200] });
  await person.press('Listen');
  const heard = page.getByRole('list', { name: 'Lines as they came, newest first' });
  await expect.poll(() => heard.innerText()).toContain('000.0·V\n0.0 V');
  await lookAt('shelf', (one) => one.go('Shelf'));
  await person.keepMeter();
  await person.describeMeter({ name: 'Pocket meter', port: coilPort, ranges: [range20] });
  await person.keepMeter();
  await lookAt('meters', (one) => one.go('Meters'));
  await person.openSession(mains);
  await person.setUp('Two meters', { 'Primary volts': 'Bench meter', 'Test-coil volts': 'Pocket meter' });
  await lookAt('bench-prove', (one) => one.go('Bench'));
  await person.toLive();
  hasPower = true;
  await person.reads('Primary volts', /^118\.6/);
  await person.reads('Test-coil volts', /^9\.87/);
  await person.fill('Coil turns', '10');
  await person.settled();
  await person.press(/^Keep this pair/);
  await person.result().getByText('120.2', { exact: true }).waitFor();
  await lookAt('bench-result', (one) => one.go('Bench'));
  await person.press(/^Put 120\.2/);
  hasPower = false;
  await person.reads('Primary volts', /^0\.0/);
  await person.powerOff();
  await isApplied(/120\.2\s*±\s*1\.3/);
  await lookAt('core', async (one) => {
    await one.go('Shelf');
    await one.page
      .getByRole('link', { name: /Dimmer core A/ })
      .first()
      .click();
  });
});

it('finds the turns with one meter in the order primary, coil, primary', async () => {
  let isOnCoil = false;
  let drift = 0;
  const port = await meter(() => (!hasPower ? '000.0 V' : isOnCoil ? '9.9 V' : `${(118.4 + drift).toFixed(1)} V`));
  await person.describeMeter({ name: 'The meter', port, ranges: [range200] });
  await person.keepMeter();
  await person.openSession(mains);
  await person.setUp('One meter, moved', { 'The meter': 'The meter' });
  for (const place of ['primary', 'coil', 'primary again']) {
    isOnCoil = place === 'coil';
    drift = place === 'primary again' ? 0.4 : 0;
    await person.toLive();
    hasPower = true;
    if (place !== 'primary') {
      await person.press('The meter is there now');
      await person.button('The meter is there now').waitFor({ state: 'detached' });
    }
    const channel = isOnCoil ? 'Test-coil volts' : 'Primary volts';
    await person.reads(channel, isOnCoil ? /^9\.9/ : /^118\.[48]/);
    await person.fill('Coil turns', '10');
    await person.settled();
    await person.press(/^Keep this value/);
    await page.getByText(place === 'primary again' ? 'Pair kept.' : 'Value kept.').waitFor();
    hasPower = false;
    await person.reads(channel, /^0\.0/);
    await person.powerOff();
  }
  // 10 x (118.4 + 118.8) / 2 / 9.9, by hand: 119.8.
  await person.result().getByText('119.8', { exact: true }).waitFor();
  await person.press(/^Put 119\.8/);
  await isApplied(/119\.8\s*±/);
});

it('finds the turns from typed values alone, decimal comma and all, and keeps what it refuses', async () => {
  await person.describeMeter({ name: 'Typed one', ranges: [range200] });
  await person.keepMeter();
  await person.describeMeter({ name: 'Typed two', ranges: [range20] });
  await person.keepMeter();
  await person.openSession(mains);
  await person.setUp('Typed', { 'Primary volts': 'Typed one', 'Test-coil volts': 'Typed two' });
  await person.toLive();
  await person.press(/^Type a value/);
  const dialog = page.getByRole('dialog', { name: 'Type a value' });
  const value = person.field('Value as the meter shows it', dialog);
  await person.choose('Read on', 'Primary volts', dialog);
  await value.fill('118,6');
  await value.press('Enter');
  await dialog.getByRole('radio', { name: 'Test-coil volts', checked: true }).waitFor();
  await value.fill('9,87 A');
  await value.press('Enter');
  await dialog.getByText(/It is A/).waitFor();
  expect(await value.inputValue()).toBe('9,87 A');
  await value.fill('9,87');
  await value.press('Enter');
  await dialog.getByText(/Taken as 9.87 V/).waitFor();
  await page.keyboard.press('Escape');
  await person.fill('Coil turns', '10');
  await person.press(/^Keep this pair/);
  await person.result().getByText('120.2', { exact: true }).waitFor();
  await person.press(/^Put 120\.2/);
  await person.powerOff();
  await isApplied(/120\.2\s*±/);
});
