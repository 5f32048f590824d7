import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { expectNoAxeFindings } from './axe.ts';
import type { BenchPage } from './bench-page.ts';
import { mains, variable, type RunBench } from './bench-runs.ts';
import { openBrowser } from './browser.ts';
import { openPlace, untroubled, type Place } from './place.ts';

let browser: Browser;
let place: Place;
let page: Page;
let bench: RunBench;
let at: BenchPage;
/** What stands at each meter, or how it changes; a meter that is not named is silent. */
let shown: Record<string, string | (() => string)> = {};
const dead = { 'Bench meter': '000.0 V AC', 'Line clamp': '0.000 A AC' };

beforeAll(async () => {
  browser = await openBrowser();
  place = await openPlace(browser);
  ({ page, bench, at } = place);
  for (const label of ['Bench meter', 'Line clamp']) await stream(label);
  await stream('Thermometer', { ranges: [coarse] });
  await bench.typed('Plug-in wattmeter', 'Voltmeter', 'Ammeter', 'Line volts');
});
afterEach(async () => {
  await bench.leave();
  shown = {};
});
afterAll(async () => {
  const complaints = await place.close();
  await browser.close();
  expect(complaints).toEqual(untroubled);
});

/** Hours are played in seconds: a line that comes a moment late is some tenths of a degree off. */
const coarse = {
  unit: '°C',
  coupling: null,
  top: 400,
  resolution: 0.1,
  percentOfReading: 2,
  digits: 10,
  shape: 'rectangular',
} as const;

const stream = (label: string, more = {}) =>
  bench.streams(
    label,
    () => {
      const line = shown[label] ?? null;
      return typeof line === 'function' ? line() : line;
    },
    more,
  );

it('takes a no-load point from streaming and typed meters, and comes back to it after a reload', async () => {
  await place.open('Dimmer core B', mains);
  shown = dead;
  await at.setUp(
    'No-load current and loss',
    { 'Primary volts': 'Bench meter', 'Line amps': 'Line clamp', Watts: 'Plug-in wattmeter' },
    { 'Primary turns added': 'No', 'Amps expected': '0,8' },
  );
  await expectNoAxeFindings(page);
  await place.live();
  shown = { 'Bench meter': '230.0 V AC', 'Line clamp': '0.500 A AC' };
  await at.person.reads('Primary volts', /^230/);
  await at.person.reads('Line amps', /^0\.500/);
  await at.type({ Watts: '40' });
  await at.keep();
  // By hand: 40 W less 0.5² x 2 ohm of copper, and 40 W of 230 V x 0.5 A.
  await at.expectResult(/Loss in the iron\s*39\.50/);
  await page.reload();
  await at.expectResult(/Loss in the iron\s*39\.50/);
  await expect.poll(() => at.keptRows().count()).toBe(2);
  // The far view takes the key as well.
  await page.keyboard.press('v');
  await page.getByRole('dialog', { name: 'Far view' }).waitFor();
  await page.keyboard.press('k');
  await page.keyboard.press('v');
  await expect.poll(() => at.keptRows().count()).toBe(3);
  await expectNoAxeFindings(page);
  await at.person.press('Keep result');
  await page.getByRole('button', { name: 'Result kept' }).waitFor();
  await at.powerOff(() => (shown = dead));
  await at.endRun();
  await page.reload();
  await at.expectResult(/Loss in the iron\s*39\.50/);
});

it('takes a sweep by temporary turns, each point with its count, and takes one back', async () => {
  await place.open('Dimmer core B', variable);
  await at.setUp(
    'No-load sweep',
    { 'Primary volts': 'Voltmeter', 'Line amps': 'Ammeter' },
    { 'Primary turns added': 'No', 'By temporary extra': 'Yes', 'Amps expected': '0.8' },
  );
  await expectNoAxeFindings(page);
  await place.live();
  for (const [turns, amps] of [
    ['254', '0,31'],
    ['242', '0,42'],
    ['230', '0,61'],
  ] as const) {
    await at.type({ 'Primary volts': '230', 'Line amps': amps });
    await at.person.fill('Turns carrying current', turns, at.capture());
    await at.keep('Point kept.', 'Enter');
    await page.getByRole('cell', { name: turns, exact: true }).waitFor();
  }
  await at.person.press('Take back point 2');
  const dialog = page.getByRole('dialog', { name: 'Take back a point' });
  await dialog.getByRole('button', { name: 'Wrong count' }).click();
  await dialog.getByRole('button', { name: 'Take it back' }).click();
  await page.getByText('taken back: Wrong count').waitFor();
  const { points } = await bench.ask('run.get', { runId: (await bench.ask('app.present', {})).run?.runId ?? 0 });
  expect(points.map(({ fields, withdrawn }) => [fields['turns'], withdrawn])).toEqual([
    [254, null],
    [242, 'Wrong count'],
    [230, null],
  ]);
});

it('plays a published heat run as a meter: the published rise on screen, a pulled room probe told, a reload survived', async () => {
  await place.open('Dimmer core B', mains);
  // Theraja, A Textbook of Electrical Technology, vol. III, Ex. 45.14 p. 1809: from 20 K towards 85 K with 2.4 h, at 25 °C
  // ambient. Played so that 2.4 h pass in 10 s.
  const tauMs = 10_000;
  let onMs = Infinity;
  const celsius = () => 110 - 65 * Math.exp(-Math.max(0, performance.now() - onMs) / tauMs);
  const thermometer = () => `${celsius().toFixed(2)} C`;
  shown = { ...dead, Thermometer: '45.00 C', 'Room probe': '25.0 C' };
  const pullProbe = await stream('Room probe');
  await at.setUp(
    'Heat run at no load',
    {
      'Primary volts': 'Bench meter',
      'Line amps': 'Line clamp',
      'Core temperature': 'Thermometer',
      Ambient: 'Room probe',
    },
    {
      'Class of the insulation': 'F, 155 °C',
      'Winding by resistance': 'No',
      'Primary turns added': 'No',
      'Amps at the start': '0.6',
    },
  );
  await expectNoAxeFindings(page);
  await place.live();
  const { guard } = await bench.ask('app.present', {});
  onMs = performance.now() - (guard.nowMs - (guard.state.power?.onAtMs ?? NaN));
  shown = { ...shown, 'Bench meter': '230.0 V AC', 'Line clamp': '0.600 A AC', Thermometer: thermometer };
  await at.expectResult(/Final rise/);
  await page.reload();
  await at.expectResult(/Final rise\s*8[45]\.\d/, /Final temperature\s*(109|110)\.\d/);
  // A room probe that is pulled bounds nothing: it is told, and the run goes on.
  await pullProbe();
  await page
    .getByText(/Ambient: the meter is quiet|Ambient.*quiet/)
    .first()
    .waitFor();
  expect(await at.person.state()).toBe('Live');
  await at.expectResult(/Time constant\s*(9|1[01])\.\d/);
  await expectNoAxeFindings(page);
  await at.powerOff(() => (shown = dead));
  await at.endRun();
  expect(await page.getByText('This run was tripped').count()).toBe(0);
});

it('takes a loaded run with the line volts of each point, and trips over the planned amps', async () => {
  await place.open('Dimmer core B', mains);
  await at.setUp(
    'Loaded run',
    { 'Secondary volts': 'Voltmeter', 'Secondary amps': 'Ammeter', 'Primary volts': 'Line volts' },
    {
      'Amps planned': '5',
      'Amps into a short': '90',
      'Class of the insulation': 'Not known',
      'Strands or windings': 'No',
      'An output over 50 V': 'No',
    },
  );
  await expectNoAxeFindings(page);
  await place.live();
  for (const [amps, line] of [
    [0.1, 230],
    [5, 228],
  ] as const) {
    await at.type({
      'Secondary amps': String(amps),
      'Secondary volts': ((24 - 0.2 * amps) * (line / 230)).toFixed(3),
      'Primary volts': String(line),
    });
    await at.keep();
  }
  await at.expectResult(/Resistance of the output\s*0\.20/);
  // For its first two seconds the inrush is let pass.
  await page.getByText(/power declared on for 0:0[3-9]/).waitFor();
  await at.type({ 'Secondary amps': '5.6' });
  await page.getByText('switch off at the plug now').first().waitFor();
  await page.getByText(/limit crossed/).waitFor();
  await at.person.powerOff();
  await at.endRun();
  await page.getByText('This run was tripped').waitFor();
});
