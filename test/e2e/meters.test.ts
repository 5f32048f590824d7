import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { openPtyPair, type PtyPair } from '../main/meter/pty-pair.ts';
import { scpiInstrument, type Instrument } from '../main/meter/scpi-instrument.ts';
import { receive } from '../main/meter/uart.ts';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looks, openBrowser, openPage } from './browser.ts';
import { Person, type Range } from './person.ts';

const pictures = join(import.meta.dirname, 'pictures');
const range200: Range = { upTo: '200', lastDigit: '0,1', percent: '1,2', digits: '5' };
const range20: Range = { upTo: '20', lastDigit: '0.001', percent: '0.8', digits: '5' };

let browser: Browser;
let folder: ReturnType<typeof dataFolder>;
let program: Program;
let context: BrowserContext;
let page: Page;
let errors: string[];
let person: Person;
let closing: (() => Promise<void> | void)[];
/** False while a lead is out: nothing is sent into the air. */
let isJoined: boolean;

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await openBrowser();
});
afterAll(() => browser.close());

beforeEach(async () => {
  closing = [];
  isJoined = true;
  folder = dataFolder();
  program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  ({ page, context, errors } = await openPage(browser, program.url));
  person = new Person(page);
});
afterEach(async () => {
  await context.close();
  const code = await program.stop();
  for (const close of closing) await close();
  folder.remove();
  expect({ errors, code, misfits: /does not fit|misfit/.test(program.said()) }).toEqual({
    errors: [],
    code: 0,
    misfits: false,
  });
});

/** Sends lines from the meter's end, five a second, until the test is over. */
function stream(pair: () => PtyPair, line: () => string | Uint8Array): void {
  const timer = setInterval(() => {
    if (isJoined) void pair().write(line());
  }, 200);
  closing.unshift(() => {
    clearInterval(timer);
  });
}

/** This page, in every theme and size: axe finds nothing, and the picture is kept. */
async function lookAt(name: string): Promise<void> {
  for (const { theme, width, height } of looks) {
    await page.emulateMedia({ colorScheme: theme, reducedMotion: 'reduce' });
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(200);
    await expectNoAxeFindings(page);
    await page.screenshot({ path: join(pictures, `${name}-${theme}-${width}x${height}.png`) });
  }
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize({ width: 1280, height: 800 });
}

it('asks an instrument beside a meter of another kind, and goes on when its lead was pulled and put back', async () => {
  let hasPower = false;
  await person.arrive('Rowan');
  await person.addCore('Dimmer core A');
  await person.addPrimary();
  const instrument: Instrument = await scpiInstrument(() => (hasPower ? 118.6 : 0));
  closing.push(() => instrument.close());
  let pair = await openPtyPair();
  closing.push(() => pair.close());
  stream(
    () => pair,
    () => (hasPower ? '9.870 V AC\r\n' : '0.000 V AC\r\n'),
  );

  await person.describeMeter({ name: 'Bench instrument', port: instrument.pair.programEnd, ranges: [range200] });
  await person.choose('It sends', 'when it is asked');
  await person.pick('A number without a unit is in', 'V');
  await person.pick('which is', 'a.c.');
  await person.press(/^Listen$/);
  await page
    .getByText('It says that it is Limelight Works BM-40, serial number 00217, firmware 1.04.')
    .first()
    .waitFor();
  const heard = page.getByRole('list', { name: 'Lines as they came, newest first' });
  await expect.poll(() => heard.innerText()).toContain('+0.000000E+0\n0.000000 V ac');
  await page.getByRole('heading', { name: 'Listen' }).scrollIntoViewIfNeeded();
  await lookAt('meter-asked');
  await person.keepMeter();
  await person.describeMeter({ name: 'Pocket meter', port: pair.programEnd, ranges: [range20] });
  await person.choose('On a.c. it shows', 'the average, scaled for a sine');
  await person.keepMeter();

  await person.openSession({ kind: /^Mains *Only/, volts: '120', hertz: '60' });
  await person.setUp('Two meters', { 'Primary volts': 'Bench instrument', 'Test-coil volts': 'Pocket meter' });
  await person.toLive();
  hasPower = true;
  await person.fill('Coil turns', '10');
  await person.settled();

  isJoined = false;
  await pair.pull();
  const coil = page.getByRole('region', { name: 'Test-coil volts' });
  await coil.getByText(/The port went away/).waitFor();
  pair = await openPtyPair(dirname(pair.meterEnd));
  isJoined = true;
  await coil.getByText(/The port went away/).waitFor({ state: 'detached' });
  await person.settled();

  await person.press(/^Keep this pair/);
  await person.result().getByText('120.2', { exact: true }).waitFor();
  await page
    .getByText(/A true-rms and an average-responding meter were used in one ratio/)
    .first()
    .waitFor();
  expect(instrument.heard.slice(0, 2)).toEqual(['*IDN?', 'READ?']);
  hasPower = false;
  await person.reads('Primary volts', /^0\.0/);
  await person.reads('Test-coil volts', /^0\.0/);
  await person.powerOff();
});

it('finds the rate of a meter that is not set up as most are, and takes it over', async () => {
  await person.arrive('Rowan');
  const pair = await openPtyPair();
  closing.push(() => pair.close());
  // A pseudo terminal has no rate of its own: what a receiver at the program's rate would make of a 2400 baud meter is sent.
  const rate = () => Number(execFileSync('stty', ['-F', pair.programEnd, 'speed']).toString());
  const sent = { baudRate: 2400, dataBits: 8, parity: 'none' } as const;
  stream(
    () => pair,
    () => receive(Buffer.from('118.6 V AC\r\n'), sent, rate()),
  );
  await person.go('Meters');
  await page.getByRole('link', { name: 'Describe the first meter' }).click();
  await person.fill('Port', pair.programEnd);
  await person.press(/^Listen$/);
  await page
    .getByText(/Is this the rate of the meter/)
    .first()
    .waitFor();
  await person.press('Find the rate');
  await page.getByText(/Trying 9600 baud, DTR on, RTS on:\s+1 of at most/).waitFor();
  await page.getByText('Sure', { exact: true }).waitFor();
  await person.press('Take these settings');
  expect(await person.field('Baud rate').inputValue()).toContain('2400');
  await person.press(/^Listen$/);
  await page.getByText('118.6 V ac').first().waitFor();
  await person.press('Keep these lines with the meter');
  await person.press('Stop');
  await person.fill('Name', 'Slow meter');
  await person.keepMeter();
  await page.getByRole('link', { name: /Slow meter/ }).click();
  await person.press('Play them back');
  await page.getByText('Played back from the kept lines.').waitFor();
  await page.getByText('118.6 V ac').first().waitFor();
});
