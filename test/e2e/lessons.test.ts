import type { Browser, BrowserContext, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { dataFolder, startProgram, type Program } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { openBrowser, openPage } from './browser.ts';
import { Keys } from './keys.ts';

// Every lesson, one after the other on one program, by keyboard alone: each leaves what the next begins with.
let browser: Browser;
let folder: ReturnType<typeof dataFolder>;
let program: Program;
let context: BrowserContext;
let page: Page;
let errors: string[];
let keys: Keys;
let band: Locator;

beforeAll(async () => {
  browser = await openBrowser();
  folder = dataFolder();
  program = await startProgram({ dataFolder: folder.path, env: { TURNWRIGHT_CHECK_REPLIES: '1' } });
  ({ page, context, errors } = await openPage(browser, program.url));
  keys = new Keys(page);
  band = page.getByRole('region', { name: 'Lesson in hand' });
});
afterAll(async () => {
  await context.close();
  await browser.close();
  const code = await program.stop();
  folder.remove();
  expect({ errors, code, misfits: /does not fit|misfit/.test(program.said()) }).toEqual({
    errors: [],
    code: 0,
    misfits: false,
  });
});

/** The band says that this is the next thing to do. */
const isNext = (words: string | RegExp) => band.getByText(words).first().waitFor();
const capture = () => page.getByRole('region', { name: 'Capture' });
async function settledAnew(): Promise<void> {
  await capture().getByText('Settled.').waitFor({ state: 'detached' });
  await capture().getByText('Settled.').waitFor();
}

async function openSession(supply: RegExp, volts: string, build: number): Promise<void> {
  await keys.act(/^Bench$/);
  await page.getByRole('heading', { name: 'Begin at the bench' }).or(page.getByText('End session')).first().waitFor();
  if (await page.getByRole('button', { name: 'End session' }).isVisible()) {
    await keys.act(/^End session$/);
    await page.getByRole('heading', { name: 'Begin at the bench' }).waitFor();
  }
  await keys.choose(/Supply/, supply);
  await keys.pick(/^Core and build/, build);
  await keys.fill(/Highest volts it can give/, volts);
  await keys.fill(/Room temperature/, '21');
  await keys.act(/^Open the session$/);
  await isNext(/^Set up/);
}

/** The pair on primary and coil, on ranges so many below the first. */
async function setUpPair(primaryRange: number, coilRange: number): Promise<void> {
  await page.getByRole('form', { name: 'Who reads the two voltages' }).waitFor();
  await keys.pick(/^Primary volts$/, 1);
  await keys.pick(/Primary volts: locked range/, primaryRange);
  await keys.pick(/^Test-coil volts$/, 2);
  await keys.pick(/Test-coil volts: locked range/, coilRange);
  await keys.act(/^Set it up$/);
}

/** From the set-up to power: an indicator, every check, the hold. */
async function toPower(): Promise<void> {
  await isNext(/^Prove it dead/);
  await keys.proveDead();
  await isNext(/^Go through the checks/);
  await keys.tickAll('Checks');
  if (await page.getByRole('button', { name: 'Take these limits' }).isVisible()) await keys.act(/Take these limits/);
  await keys.act(/Ready check/);
  await isNext(/^Hands off/);
  await keys.to(/Power on/);
  await page.keyboard.down('Space');
  await page.getByText('power declared on').waitFor();
  await page.keyboard.up('Space');
}

async function powerOff(): Promise<void> {
  await isNext(/^Power off/);
  await keys.press('F8');
  await page.getByText('Proving', { exact: true }).first().waitFor();
}

async function keepResult(): Promise<void> {
  await isNext(/^Keep the result/);
  await keys.act(/^Keep result$/);
  await isNext(/^End the run/);
  await keys.act(/^End this run$/);
}

/**
 * Goes from the end of a lesson to the truth; how many intervals there are. Each says truly whether it held: that as many
 * hold as they claim is shown over many benches elsewhere.
 */
async function truths(): Promise<number> {
  await isNext('Walked to its end.');
  await keys.act(/^See the truth$/);
  const end = page.getByRole('region', { name: 'What was found beside the truth' });
  await end
    .getByText(/held the truth|did not hold/)
    .first()
    .waitFor();
  const said = await end.getByRole('img').evaluateAll((all) => all.map((one) => one.getAttribute('aria-label') ?? ''));
  for (const one of said) {
    const [low, high, truth] = /found (\S+).* to (\S+).*, truth (\S+)/.exec(one)?.slice(1).map(parseFloat) ?? [];
    const holds = low !== undefined && high !== undefined && truth !== undefined && low <= truth && truth <= high;
    expect(one).toMatch(holds ? /The interval held it\.$/ : /The interval did not hold it\.$/);
  }
  return said.length;
}

it('make it dead: from first start to a proof with a meter that sends', async () => {
  await keys.fill(/Your name/, 'Rowan');
  await keys.act(/Practise first/);
  await page.getByText('invented, for practice').first().waitFor();
  await keys.act(/^Practice$/);
  await keys.act(/^Make it dead, and prove it$/);
  await keys.act(/^Begin this lesson$/);
  await isNext(/^Open a session/);
  await openSession(/Isolated low-voltage/, '24', 2);
  await setUpPair(0, 0);
  await isNext(/^Prove it dead/);
  // Left, and taken up again after a reload: what is done is in the record.
  await keys.act(/^Leave lesson$/);
  await band.waitFor({ state: 'detached' });
  await page.reload();
  await keys.act(/^Practice$/);
  await keys.act(/^Make it dead, and prove it$/);
  await keys.act(/^Take it up again$/);
  await isNext(/^Prove it dead/);
  await keys.act(/^To the proof$/);
  await keys.tickBeforeProof();
  await keys.fill(/Known a\.c\. source/, '24');
  await keys.fill(/Known d\.c\. source/, '36');
  await keys.act(/^Begin the proof$/);
  await page.getByRole('heading', { name: 'Step 1 of' }).waitFor();
  await keys.act(/Hands-free/);
  await keys.pick(/Time to place the probes/, 0);
  await page.getByText('Isolated', { exact: true }).first().waitFor({ timeout: 150_000 });
  expect(await truths()).toBe(1);
  await expectNoAxeFindings(page);
});

it('the turns, at low voltage: both ways round, put on the primary', async () => {
  await keys.act(/^Next lesson$/);
  // Proved and set up already: the checks are next.
  await isNext(/^Go through the checks/);
  await keys.act(/^To the readings$/);
  await keys.tickAll('Checks');
  if (await page.getByRole('button', { name: 'Take these limits' }).isVisible()) await keys.act(/Take these limits/);
  await keys.act(/Ready check/);
  await keys.to(/Power on/);
  await page.keyboard.down('Space');
  await page.getByText('power declared on').waitFor();
  await page.keyboard.up('Space');
  await isNext(/keep the pair with 10 coil turns/);
  await keys.fill(/Coil turns/, '10');
  await capture().getByText('Settled.').waitFor();
  await keys.act(/^Keep this pair/);
  await isNext(/^Exchange the two meters/);
  await keys.to(/Meters exchanged/);
  await keys.press('Space');
  await settledAnew();
  await keys.act(/^Keep this pair/);
  await powerOff();
  await isNext(/^Put the turns on the primary/);
  await keys.act(/^Put /);
  await isNext(/^End the run/);
  await expectNoAxeFindings(page);
  await keys.act(/^End this run$/);
  expect(await truths()).toBe(1);
});

it('the turns, at mains: through a lamp, within the minute', async () => {
  await keys.act(/^Next lesson$/);
  await isNext(/^Nothing else on the bench/);
  await openSession(/series lamp/, '230', 2);
  await setUpPair(4, 2);
  await toPower();
  await isNext(/keep the pair with 10 coil turns/);
  await keys.fill(/Coil turns/, '10');
  await capture().getByText('Settled.').waitFor();
  await keys.act(/^Keep this pair/);
  await powerOff();
  await keepResult();
  expect(await truths()).toBe(1);
});

it('the sweep: four points up the knob of a variable transformer', async () => {
  await keys.act(/^Next lesson$/);
  await isNext(/^Lay out the further/);
  await keys.act(/^Practice$/);
  await keys.act(/^Lay out the further practice meters$/);
  await isNext(/^Nothing else on the bench/);
  await openSession(/Variable transformer/, '260', 2);
  await keys.choose(/What to do/, /^No-load sweep/);
  await page.getByRole('form', { name: 'Who reads what' }).waitFor();
  await keys.pick(/^Primary volts$/, 1);
  await keys.pick(/^Line amps$/, 1);
  await keys.pick(/^Watts/, 1);
  await keys.choose(/Primary turns added since/, /^No/);
  await keys.fill(/^Amps expected/, '0.8');
  await keys.choose(/By temporary extra/, /^No/);
  await keys.act(/^Set it up$/);
  await isNext(/^Prove it dead/);
  await keys.to(/Knob of the source/);
  await keys.press('Home', ...Array.from({ length: 30 }, () => 'ArrowRight'));
  await toPower();
  for (const [index, up] of [0, 30, 20, 15].entries()) {
    await keys.to(/Knob of the source/);
    await keys.press(...Array.from({ length: up }, () => 'ArrowRight'));
    if (up > 0) await settledAnew();
    else await capture().getByText('Settled.').waitFor();
    // The build says how many turns it has: those that were found before.
    await expect.poll(() => capture().getByLabel('Turns carrying current').inputValue()).toMatch(/^3\d\d/);
    await keys.act(/^Keep this point/);
    await expect.poll(() => page.getByRole('table', { name: 'Kept points' }).getByRole('row').count()).toBe(index + 2);
  }
  await powerOff();
  await keepResult();
  expect(await truths()).toBeGreaterThanOrEqual(4);
});

it('the heat run: two time constants in simulated time', async () => {
  await keys.act(/^Next lesson$/);
  await isNext(/^Let time run/);
  await keys.act(/^Practice$/);
  await keys.choose(/Time runs/, /^300 times/);
  await isNext(/^Nothing else on the bench/);
  await openSession(/^Mains\s*Only/, '230', 2);
  await keys.choose(/What to do/, /^Heat run at no load/);
  await page.getByRole('form', { name: 'Who reads what' }).waitFor();
  await keys.pick(/^Primary volts$/, 1);
  await keys.pick(/^Line amps$/, 1);
  await keys.pick(/^Core temperature$/, 1);
  await keys.pick(/^Class of the insulation/, 1);
  await keys.choose(/Winding by resistance/, /^No/);
  await keys.choose(/Primary turns added since/, /^No/);
  await keys.fill(/^Amps at the start/, '0.8');
  await keys.act(/^Set it up$/);
  await toPower();
  await isNext(/^Let it record for 85 minutes/);
  await page.getByText('practice: nothing here has been measured; simulated time, 300 times faster').waitFor();
  await expectNoAxeFindings(page);
  await powerOff();
  await keepResult();
  await isNext(/^Let time run as it is again/);
  await keys.act(/^Practice$/);
  await keys.choose(/Time runs/, /^as it is/);
  expect(await truths()).toBe(1);
  // The run keeps saying what it was: nothing measured, and in simulated time.
  await keys.act(/^Bench$/);
  await keys.act(/^run \d+$/);
  await page.getByText(/^Practice\. .*Its times are simulated time, 300 times faster than the clock\.$/).waitFor();
  await page.getByText(/^Ended after .* min .*of simulated time/).waitFor();
});

it('more primary turns: the next build, and its no-load point', async () => {
  await keys.act(/^Next lesson$/);
  await isNext(/^On the core’s page: Next build/);
  await keys.act(/^To the core$/);
  await keys.act(/^Next build$/);
  await keys.fill(/What was changed/, '40 primary turns added');
  await keys.fill(/Turns added, or taken off/, '40');
  await keys.act(/^Begin build 2$/);
  await isNext(/^Nothing else on the bench/);
  await openSession(/^Mains\s*Only/, '230', 2);
  await keys.choose(/What to do/, /^No-load current and loss/);
  await page.getByRole('form', { name: 'Who reads what' }).waitFor();
  await keys.pick(/^Primary volts$/, 1);
  await keys.pick(/^Line amps$/, 1);
  await keys.pick(/^Watts/, 1);
  await keys.choose(/Primary turns added since/, /^Yes/);
  await keys.fill(/^Turns added/, '40');
  await keys.fill(/^Amps expected/, '0.3');
  await keys.act(/^Set it up$/);
  await toPower();
  await isNext(/keep the point/);
  await capture().getByText('Settled.').waitFor();
  await keys.act(/^Keep this point/);
  await powerOff();
  await keepResult();
  expect(await truths()).toBe(1);
});

it('did it help: both builds beside each other, each difference beside the true one', async () => {
  await keys.act(/^Next lesson$/);
  await isNext(/^Put both builds beside each other/);
  await keys.act(/^To the comparison$/);
  expect(await truths()).toBe(3);
  await expectNoAxeFindings(page);
});
