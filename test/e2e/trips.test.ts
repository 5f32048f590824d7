import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { tell } from '../walk.ts';
import { mains } from './bench-runs.ts';
import { openBrowser } from './browser.ts';
import { openPlace, untroubled, type Place } from './place.ts';

let browser: Browser;
let here: Place;
/** Where a run goes on by itself for a minute while the others are walked. */
let aside: Place;
/** What stands at each meter of `here`; a meter that is not named is silent. */
let shown: Record<string, string | (() => string)> = {};
const powered = { 'Bench meter': '230.0 V AC', Clamp: '0.500 A AC', Wattmeter: '40.0 W' };
const dead = { 'Bench meter': '000.0 V AC', Clamp: '0.000 A AC', Wattmeter: '0.0 W' };

/** When power was declared on aside; the core warms by 1.6 K a minute from then, and at once by 8 K when it is told to. */
let asideOnMs = Infinity;
let burst = 0;
const asideCelsius = () => 20 + burst + (Math.max(0, performance.now() - asideOnMs) / 60_000) * 1.6;

beforeAll(async () => {
  browser = await openBrowser();
  [here, aside] = [await openPlace(browser), await openPlace(browser)];
  for (const label of ['Bench meter', 'Clamp', 'Wattmeter', 'Thermometer']) {
    await here.bench.streams(label, () => {
      const line = shown[label] ?? null;
      return typeof line === 'function' ? line() : line;
    });
  }
  await here.bench.typed('Pocket wattmeter', 'Typed clamp');
  await beginAside();
});
afterEach(async () => {
  await here.bench.leave();
  shown = {};
});
afterAll(async () => {
  const [one, other] = [await here.close(), await aside.close()];
  await browser.close();
  expect([one, other]).toEqual([untroubled, untroubled]);
});

async function beginAside(): Promise<void> {
  const { bench, at } = aside;
  await bench.streams('Bench meter', () => (asideOnMs === Infinity ? '000.0 V AC' : '230.0 V AC'));
  await bench.streams('Clamp', () => (asideOnMs === Infinity ? '0.000 A AC' : '0.500 A AC'));
  await bench.streams('Thermometer', () => `${asideCelsius().toFixed(2)} C`);
  await aside.open('Dimmer core A', mains);
  await at.setUp(
    'Watts from how fast it warms',
    { 'Primary volts': 'Bench meter', 'Line amps': 'Clamp', 'Core temperature': 'Thermometer' },
    { 'Primary turns added': 'No', 'Amps expected': '0.8', Iron: '4', Copper: '1' },
  );
  await bench.prove();
  const { guard } = await bench.ask('app.present', {});
  const { limits } = guard.state;
  if (limits === null) throw new Error('No limits are set.');
  const channels = limits.channels.map((one) =>
    one.channel === 'core-temperature' ? { ...one, risePerMinute: 5 } : { ...one },
  );
  await tell(bench.ask, { kind: 'limits-set', limits: { ...limits, channels }, reason: null });
  await aside.live();
  asideOnMs = performance.now();
}

/** A no-load point set up on streaming meters, with limits that are set on the page. */
async function noLoad(limits: Readonly<Record<string, string>>): Promise<void> {
  const { bench, at, page } = here;
  shown = dead;
  await here.open('Dimmer core B', mains);
  await at.setUp(
    'No-load current and loss',
    { 'Primary volts': 'Bench meter', 'Line amps': 'Clamp', Watts: 'Wattmeter' },
    { 'Primary turns added': 'No', 'Amps expected': '0.8' },
  );
  await bench.prove();
  await page.getByRole('button', { name: 'Set limits' }).click();
  const dialog = page.getByRole('dialog', { name: 'Limits' });
  for (const [label, text] of Object.entries(limits)) await at.person.fill(label, text, dialog);
  await dialog.getByRole('button', { name: 'Keep these limits' }).click();
  await dialog.waitFor({ state: 'detached' });
}

/** Readings of a channel in the open run, and the highest of them. */
async function recorded({ bench }: Place, channel: string): Promise<{ readings: number; highest: number | null }> {
  const runId = (await bench.ask('app.present', {})).run?.runId ?? 0;
  const view = await bench.ask('run.history', { runId, channel, fromMs: 0, toMs: 1e7, pixels: 100 });
  return { readings: view.readings, highest: Math.max(...view.value.map((value) => value ?? -Infinity)) };
}

/**
 * The trip is called in these words, by its shape and its state; recording goes on until it is said that power is off, the
 * dead circuit is to be proved, and the run stays marked.
 */
async function expectTrip(
  where: Place,
  words: RegExp,
  channel: string,
  switchOff = () => {
    shown = dead;
  },
): Promise<void> {
  const { page, at } = where;
  await page.locator('.state').getByText('Tripped').waitFor();
  await page.getByRole('alert').filter({ hasText: words }).first().waitFor();
  const { readings } = await recorded(where, channel);
  await expect.poll(async () => (await recorded(where, channel)).readings).toBeGreaterThan(readings);
  await at.powerOff(switchOff);
  await at.endRun();
  await page.getByText('This run was tripped').waitFor();
}

it('lets the inrush pass for two seconds, records it, and trips above the limit from then on', async () => {
  const { bench, at } = here;
  await noLoad({});
  await at.person.powerOn();
  let inrush = 3;
  shown = { ...powered, Clamp: () => (inrush-- > 0 ? '9.000 A AC' : '0.500 A AC') };
  await at.person.reads('Line amps', /^0\.500/);
  expect(await at.person.state()).toBe('Live');
  shown = { ...powered, Clamp: '1.300 A AC' };
  await at.page.getByText('limit crossed').first().waitFor();
  const { guard } = await bench.ask('app.present', {});
  const { power, sinceMs } = guard.state;
  expect(sinceMs - (power?.onAtMs ?? Infinity)).toBeGreaterThan(2000);
  expect((await recorded(here, 'line-amps')).highest).toBe(9);
  await expectTrip(here, /Line amps reached 1\.3 A, limit 1\.2 A/, 'line-amps');
});

it('trips below the lower limit of a steady line', async () => {
  const { at } = here;
  shown = { ...dead, Thermometer: '21.0 C' };
  await here.open('Dimmer core B', mains);
  await at.setUp(
    'Heat run at no load',
    { 'Primary volts': 'Bench meter', 'Line amps': 'Clamp', 'Core temperature': 'Thermometer' },
    {
      'Class of the insulation': 'Not known',
      'Winding by resistance': 'No',
      'Primary turns added': 'No',
      'Amps at the start': '0.6',
    },
  );
  await here.live();
  shown = { ...powered, Thermometer: '21.0 C' };
  await at.page.getByRole('region', { name: 'Primary volts' }).getByText('230.0').waitFor();
  shown = { ...powered, 'Bench meter': '200.0 V AC', Thermometer: '21.0 C' };
  await expectTrip(here, /Primary volts .*200 V.*207 V/, 'primary-volts');
});

it('trips when the time with power on is over', async () => {
  await noLoad({ 'Power on at most': '5' });
  await here.at.person.powerOn();
  shown = powered;
  await expectTrip(here, /time|5 s/, 'primary-volts');
});

it('calls for a quiet meter without a limit, and trips on one with a limit', async () => {
  await noLoad({ 'A meter may be silent': '1' });
  await here.at.person.powerOn();
  shown = powered;
  const { Wattmeter: _silent, ...rest } = powered;
  shown = rest;
  await here.page.getByRole('alert').filter({ hasText: 'Watts: its meter has been quiet' }).waitFor();
  expect(await here.at.person.state()).toBe('Live');
  shown = { 'Bench meter': powered['Bench meter'] };
  await expectTrip(here, /Line amps: its meter has been quiet/, 'primary-volts');
});

it('goes on when a meter is lost, takes another into the open run, and comes back from a reload with all of it', async () => {
  const { bench, at, page } = here;
  shown = dead;
  const pull = await bench.streams('Room probe', () => '21.5 C');
  await here.open('Dimmer core B', mains, null);
  const meters = { 'Primary volts': 'Bench meter', 'Line amps': 'Typed clamp', Ambient: 'Room probe' };
  const answers = { 'Primary turns added': 'No', 'Amps expected': '2' };
  await at.setUp('No-load current and loss', meters, answers);
  await here.live();
  shown = powered;
  await at.person.reads('Primary volts', /^230/);
  await at.type({ 'Line amps': '1.522' });
  await at.keep();
  await pull();
  await page
    .getByRole('region', { name: 'Ambient' })
    .getByText(/The port went away/)
    .waitFor();
  expect(await at.person.state()).toBe('Live');
  shown = dead;
  await at.person.reads('Primary volts', /^0\.0/);
  await at.person.powerOff();
  await at.setUp('No-load current and loss', { Watts: 'Pocket wattmeter' });
  await here.live();
  shown = powered;
  await at.person.reads('Primary volts', /^230/);
  await at.type({ Watts: '110,0', 'Line amps': '1.522' });
  await at.keep();
  // Kulshreshtha, Basic Electrical Engineering, Ex. 13.7 p. 380: 350 VA and 110 W at 230 V.
  const published = [/Power factor\s*0\.314/, /Loss current\s*0\.478/, /Magnetising current\s*1\.44[45]/];
  await at.expectResult(...published);
  const before = await recorded(here, 'primary-volts');
  await page.reload();
  await page.getByText('power declared on').waitFor();
  await at.expectResult(...published);
  await expect.poll(() => at.keptRows().count()).toBe(3);
  expect((await recorded(here, 'primary-volts')).readings).toBeGreaterThan(before.readings);
  shown = dead;
  await at.person.reads('Primary volts', /^0\.0/);
  await at.person.powerOff();
  await at.endRun();
});

it('finds watts from how fast the iron warms, says when it will reach its limit, and trips when it rises too fast', async () => {
  const { at, page } = aside;
  // By hand: (4 x 460 + 1 x 385) J/K x 1.6 K a minute.
  await at
    .result()
    .filter({ hasText: /Watts\s*59\D/ })
    .waitFor({ timeout: 150_000 });
  // From 21.6 °C to 45 °C at 1.6 K a minute.
  await page.getByText(/Reaches 45 °C in about 1[45] min, going on like this/).waitFor();
  burst = 8;
  await expectTrip(aside, /Core temperature rises .* °C a minute/, 'core-temperature', () => {
    asideOnMs = Infinity;
  });
});
