import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Supply } from '../../src-shared/record/session.ts';
import { pageOf } from '../live-bench.ts';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { looksOnce, openBrowser, openPage, type Look } from './browser.ts';
import { Person } from './person.ts';
import { PractisedBench } from './practised-bench.ts';

const pictures = join(import.meta.dirname, 'pictures');
const lowVoltage: Supply = { kind: 'isolated-low-voltage', volts: 18, hertz: 50, earthed: 'floating', rcd: 'no' };
const variable: Supply = {
  kind: 'variable-transformer',
  volts: 230,
  hertz: 50,
  earthed: 'earthed',
  rcd: 'yes',
  fuseAmps: 6,
};
const benchMeter = 'Practice bench meter';
const onTheLine = {
  'primary-volts': [benchMeter, null],
  'line-amps': ['Practice ammeter', null],
  watts: ['Practice power meter', null],
} as const;
const addedTurns = 40;
/** Of a ribbon passed through the window: enough to pin the count. */
const coilTurns = 200;

const folder = dataFolder();
let browser: Browser;
let program: Program;
let bench: PractisedBench;
let page: Page;
let person: Person;
let errors: string[];

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await openBrowser();
  program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  bench = await PractisedBench.laidOut((await pageOf(program)).ask);
  ({ page, errors } = await openPage(browser, program.url));
  person = new Person(page);
});
afterAll(async () => {
  await browser.close();
  const code = await program.stop();
  folder.remove();
  expect({ errors, code, misfits: /does not fit|misfit/.test(program.said()) }).toEqual({
    errors: [],
    code: 0,
    misfits: false,
  });
});

/** The page of the core, with the step that it proposes. */
async function proposed(step: RegExp): Promise<void> {
  await person.go('Shelf');
  await page.getByRole('link', { name: 'Dimmer core A' }).first().click();
  await page.getByText(step).first().waitFor();
}

/** A no-load point of the latest build at the full line, with the volts of its output. Gives what the bench truly drew. */
async function noLoadPoint(answers: Readonly<Record<string, number | string>>): Promise<number> {
  const meters = { ...onTheLine, 'secondary-volts': ['Practice pocket meter', null] } as const;
  await bench.live(variable, 'no-load', meters, answers);
  await bench.turnTo(100, benchMeter, 230);
  await bench.keepPoint();
  const { now } = await bench.ask('practice.get', {});
  await bench.finish();
  return now?.lineAmps ?? NaN;
}

/** The same page in several themes and sizes: axe finds nothing, and the picture is kept. */
async function lookAt(name: string, hash: string, seen: readonly Look[]): Promise<void> {
  for (const look of seen) {
    const visit = await openPage(browser, program.url, look);
    await visit.page.evaluate((to) => (location.hash = to), hash);
    await visit.page.getByText('Fetching ...').waitFor({ state: 'detached' });
    await visit.page.getByRole('heading', { level: 1 }).waitFor();
    await expectNoAxeFindings(visit.page);
    await visit.page.screenshot({ path: join(pictures, `${name}-${look.theme}-${look.width}x${look.height}.png`) });
    expect(visit.errors).toEqual([]);
    await visit.context.close();
  }
}

/** The rows of what was predicted, each with the ends of its interval. */
async function predictedRows() {
  const table = page.getByRole('region', { name: 'Predicted, and what came of it' });
  const rows = await table.getByRole('row').allInnerTexts();
  return rows.slice(1).map((text) => {
    const [, low = NaN, high = NaN] = /([\d.]+) to ([\d.]+)/.exec(text)?.map(Number) ?? [];
    return { text, low, high };
  });
}

it('goes the whole way: turns, curve, plan, as wound, measured again, compared', async () => {
  const { controls } = await bench.ask('practice.get', {});
  await bench.ask('practice.set', { controls: { ...controls, line: 'steady', coilTurns } });

  await proposed(/Next: find the primary turns/);
  await bench.live(lowVoltage, 'test-coil', {
    'primary-volts': [benchMeter, 1],
    'coil-volts': ['Practice pocket meter', null],
  });
  await bench.keepPair(coilTurns, null);
  await bench.keepPair(coilTurns, [benchMeter, 18]);
  const coil = await bench.finish();
  const found = await bench.latest();
  await bench.ask('result.apply', { resultId: coil.resultId, windingId: found.primary.windingId });
  const { turns } = (await bench.latest()).primary.fields;
  const truth = (await bench.ask('practice.hidden', { coreId: bench.coreId })).find(({ label }) => label === 'Primary');
  if (turns.kind !== 'estimated' || truth === undefined) throw new Error('The turns were not found.');
  expect(Math.abs(turns.value - truth.turns)).toBeLessThan(2 * turns.u);

  await proposed(/Next: the (turns once more|no-load curve)/);
  const sweep = { turnsAdded: 'no', temporaryTurns: 'no', expectedAmps: 0.5 };
  await bench.live(variable, 'no-load-sweep', onTheLine, sweep);
  for (const percent of [60, 80, 92, 100, 109]) {
    await bench.turnTo(percent, benchMeter, 2.3 * percent);
    await bench.keepPoint({ turns: turns.value });
  }
  await bench.finish();

  // The plan: an output of 24 V, and turns added to the primary by what the curve says.
  await page.goto(`${program.url.split('#')[0] ?? ''}#/plan/build-${found.build.buildId}`);
  await person.fill('Load volts', '24');
  await person.fill('Load amps', '6');
  await person.fill('Or typed', String(addedTurns));
  await page.getByText(/Fetching the sweep|Drawing the curve|Working it out/).waitFor({ state: 'detached' });
  await person.press('Keep this plan');
  await person.press('Keep as version 1');
  await page
    .getByText(/version 1 of/)
    .first()
    .waitFor();

  // As wound, by keyboard: the plan beside it, everything as planned.
  await proposed(/Next: wind it, by version 1/);
  await page.getByRole('link', { name: 'As wound', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'As wound: build 2' }).waitFor();
  await page.getByText('As planned.').first().waitFor();
  const old = page.getByRole('checkbox', { name: 'Old secondary' });
  if (await old.isChecked()) await old.press('Space');
  await expectNoAxeFindings(page);
  await lookAt('wound', `#/wound/core-${bench.coreId}`, looksOnce);
  await person.field('What was changed').press('Enter');
  await page.getByRole('heading', { name: /Build 2, / }).waitFor();
  const { build: wound, primary } = await bench.latest();
  expect(primary.fields).toMatchObject({ turnsAdded: addedTurns, turns: { value: turns.value + addedTurns } });
  expect(wound.fields.planRevisionId).toBeDefined();

  const drawn = await noLoadPoint({ turnsAdded: 'yes', addedTurns, expectedAmps: 0.5 });
  await page.goto(`${program.url.split('#')[0] ?? ''}#/compare/${found.build.buildId}/${wound.buildId}`);
  const said = page.getByRole('region', { name: 'What happened' });
  await expect.poll(() => said.innerText()).toMatch(/With 40 more turns on “Primary”.* fell by /s);
  const rows = await predictedRows();
  const amps = rows.find(({ text }) => text.startsWith('No-load current at 230'));
  // What the bench truly drew lies within what was predicted before anything was wound.
  expect(drawn).toBeGreaterThan(amps?.low ?? Infinity);
  expect(drawn).toBeLessThan(amps?.high ?? -Infinity);
  expect(rows.filter(({ text }) => /volts with no load/.test(text)).map(({ text }) => text)).toEqual([
    expect.stringMatching(/within the predicted interval|by less than the reading can tell/),
  ]);
  await page.getByRole('heading', { name: 'One curve for both: the turn counts agree' }).waitFor();
  await page.getByText('Practice: nothing of it was measured.').waitFor();
  await lookAt('compare', `#/compare/${found.build.buildId}/${wound.buildId}`, looksOnce);

  // A build that changed nothing is called so.
  await proposed(/Next: /);
  await page.getByRole('link', { name: 'Next build' }).click();
  await person.fill('What was changed', 'taken to pieces and put together again');
  await person.field('What was changed').press('Enter');
  await page.getByRole('heading', { name: /Build 3, / }).waitFor();
  await noLoadPoint({ turnsAdded: 'no', expectedAmps: 0.5 });
  await person.go('Compare');
  await page.getByRole('heading', { name: 'Build 2 beside build 3' }).waitFor();
  await expect.poll(() => said.innerText()).toMatch(/^Nothing that these meters can see has changed\./);

  const { settings } = await bench.ask('app.present', {});
  await bench.ask('settings.save', { settings: { ...settings, units: 'us' } });
  await page
    .getByRole('cell', { name: /69\.8 °F/ })
    .first()
    .waitFor();
  await expectNoAxeFindings(page);
});
