import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import type { BenchPage } from './bench-page.ts';
import { lowSource, mains, variable, type RunBench } from './bench-runs.ts';
import { openBrowser } from './browser.ts';
import { openPlace, untroubled, type Place } from './place.ts';

let browser: Browser;
let place: Place;
let page: Page;
let bench: RunBench;
let at: BenchPage;
/** What stands at each meter, or how it changes; a meter that is not named is silent. */
let shown: Record<string, string | (() => string)> = {};

beforeAll(async () => {
  browser = await openBrowser();
  place = await openPlace(browser);
  ({ page, bench, at } = place);
  for (const label of ['Bench meter', 'Clamp', 'Wattmeter', 'Ohmmeter', 'Tester', 'Millivoltmeter', 'Current meter']) {
    await bench.streams(label, () => {
      const line = shown[label] ?? null;
      return typeof line === 'function' ? line() : line;
    });
  }
  await bench.typed('Pocket meter', 'Typed volts', 'Typed clamp', 'Room thermometer');
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

/** From the plug being seen out to power on, as the page asks it where every volt is low. */
async function goOn(): Promise<void> {
  await page.getByRole('navigation', { name: 'At the bench' }).getByText('Prove dead').click();
  await at.person.tick('The plug is out');
  await at.person.press('The plug is out: go on');
  await page.getByText('only the plug seen out').waitFor();
  await at.person.confirmAll();
  await at.person.powerOn();
}

/** The source is turned down, then it is said that power is off. */
async function off(): Promise<void> {
  shown = { 'Bench meter': '0.00 V AC' };
  await page
    .getByRole('region', { name: /^(Second winding alone|Across both, joined)$/ })
    .getByText(/^0\.00/)
    .first()
    .waitFor();
  await at.person.powerOff();
}

it('finds the polarity of two windings with one meter, by the four checks of a low-voltage bench', async () => {
  await place.open('Dimmer core A', lowSource);
  shown = { 'Bench meter': '0.00 V AC' };
  await at.choose('Polarity of two windings');
  await page.getByLabel('One meter or clamp, moved').check();
  await at.person.pick('The meter', 'Bench meter', page.getByRole('form', { name: 'Who reads what' }));
  await at.person.press('Set it up');
  const read = async (channel: string, volts: string, said: 'Value kept.' | 'Point kept.') => {
    shown = { 'Bench meter': volts };
    await at.moveTo(channel);
    await at.person.reads(channel, new RegExp(`^${parseFloat(volts)}`));
    await at.keep(said);
  };
  await goOn();
  await read('First winding alone', '12.00 V AC', 'Value kept.');
  await read('Second winding alone', '1.25 V AC', 'Value kept.');
  await page.getByRole('region', { name: 'First winding alone' }).getByText('Kept for this point').waitFor();
  await off();
  await goOn();
  await read('Across both, joined', '13.24 V AC', 'Point kept.');
  await off();
  // 12.00 V and 1.25 V make 13.25 V where they add.
  await at.expectResult(/They are\s*adding/);
  await at.endRun();
});

it('refuses two wires under 2 ohm as a result, and takes four in both polarities onto the winding', async () => {
  await place.open('Dimmer core B', mains);
  await at.setUp(
    'Resistance of a winding',
    { 'Ohms by two wires': 'Ohmmeter' },
    { Winding: 'Secondary', 'A source of more': 'No', 'Under about 2': 'Yes' },
  );
  await bench.prove();
  shown = { Ohmmeter: '0.2130 Ohm' };
  await at.keep();
  await at.expectResult(/No result yet/, /Under 2 ohm two wires are a check only.*Read it with four/s);
  await at.endRun();
  await at.setUp(
    'Resistance of a winding',
    { 'Ohms by two wires': 'Not read', 'Volts inside': 'Millivoltmeter', 'Direct current': 'Current meter' },
    { 'A source of more': 'Yes' },
  );
  await bench.prove();
  shown = { Millivoltmeter: '18.30 mV DC', 'Current meter': '1.500 A DC' };
  await at.person.choose('Current', 'Forward', at.capture());
  await at.keep();
  shown = { Millivoltmeter: '-18.10 mV DC', 'Current meter': '1.500 A DC' };
  await at.person.choose('Current', 'Reversed', at.capture());
  await at.settledAnew();
  await at.keep();
  // By hand: (18.30 + 18.10) mV / (2 x 1.5 A), and half their difference from the contacts.
  await at.expectResult(/Resistance\s*0\.01213/, /Volts of the contacts\s*0\.000100/);
  await at.person.press('Put it on the secondary');
  await at.result().getByText('Secondary now has this resistance.').waitFor();
  await at.endRun();
});

it('holds the insulation of each pair against the figure that was chosen', async () => {
  await place.open('Dimmer core B', mains);
  await at.setUp('Insulation resistance', { 'Insulation after': 'Tester' });
  await bench.prove();
  shown = { Tester: '120.0 MOhm' };
  const fields = {
    Between: 'Primary and core',
    'Test volts': '500',
    'Figure to meet': '5',
    'Whose figure': 'own choice',
  };
  for (const [label, text] of Object.entries(fields)) await at.person.fill(label, text, at.capture());
  await at.person.choose('One end of it', 'No', at.capture());
  await at.keep();
  await at.expectResult(/Primary and core\s*Against the figure\s*met/);
  shown = { Tester: '2.0 MOhm' };
  await at.person.fill('Between', 'Secondary and core', at.capture());
  await at.settledAnew();
  await at.keep('Point kept.', 'Enter');
  await at.expectResult(
    /Secondary and core\s*Against the figure\s*not met.*Primary and core\s*Against the figure\s*met/s,
  );
  await at.endRun();
});

const powered = { 'Bench meter': '230.0 V AC' };
const dead = { 'Bench meter': '000.0 V AC' };
const asked = { 'Primary turns added': 'No', 'Amps expected': '2' };

it('finds watts from three currents of one clamp that is moved', async () => {
  await place.open('Dimmer core B', mains);
  await at.choose('Watts from three currents');
  await page.getByLabel('One meter or clamp, moved').check();
  shown = { Clamp: '2.700 A AC' };
  await at.setUp(
    'Watts from three currents',
    { 'The meter': 'Clamp' },
    { ...asked, 'Resistor, warm': '115', 'Good to': '1' },
  );
  await place.live();
  for (const [channel, amps] of [
    ['Amps of both together', '2.700'],
    ['Amps of the resistor', '2.000'],
    ['Amps of the transformer', '1.000'],
  ] as const) {
    shown = { Clamp: `${amps} A AC` };
    await at.moveTo(channel);
    await at.keep(channel === 'Amps of the transformer' ? 'Point kept.' : 'Value kept.');
  }
  // By hand: 115 / 2 x (2.7² - 2² - 1²).
  await at.expectResult(/Watts\s*131\.7/);
  shown = { Clamp: '0.000 A AC' };
  await at.person.powerOff();
  await at.endRun();
});

it('finds watts from three voltages, typed', async () => {
  await place.open('Dimmer core B', mains);
  await at.setUp(
    'Watts from three voltages',
    {
      'Supply volts': 'Bench meter',
      'Volts of the resistor': 'Pocket meter',
      'Volts of the transformer': 'Typed volts',
    },
    { ...asked, 'Resistor, warm': '100', 'Good to': '1' },
  );
  shown = dead;
  await place.live();
  shown = powered;
  await at.person.reads('Supply volts', /^230/);
  await at.type({ 'Volts of the resistor': '80', 'Volts of the transformer': '180,0' });
  await at.keep();
  // By hand: (230² - 80² - 180²) / (2 x 100).
  await at.expectResult(/Watts\s*70\.5/);
  await at.powerOff(() => (shown = dead), 'Supply volts');
  await at.endRun();
});

it('finds watts from an energy counter', async () => {
  await place.open('Dimmer core B', mains);
  shown = dead;
  await at.setUp('Watts from an energy counter', { 'Primary volts': 'Bench meter', 'Line amps': 'Typed clamp' }, asked);
  await place.live();
  shown = powered;
  await at.person.reads('Primary volts', /^230/);
  await at.type({ 'Line amps': '0,5' });
  const fields = { 'Time counted over': '7200', 'Energy counted': '0,08', 'Last digit': '0.01' };
  for (const [label, text] of Object.entries(fields)) await at.person.fill(label, text, at.capture());
  await at.keep('Point kept.', 'Enter');
  // By hand: 0.08 kWh in two hours.
  await at.expectResult(/Watts\s*40\.0/);
  await at.powerOff(() => (shown = dead));
  await at.endRun();
});

it('takes a loaded run from continuous readings alone', async () => {
  await place.open('Dimmer core B', mains);
  shown = { 'Bench meter': '0.00 V AC', Clamp: '0.000 A AC' };
  await at.setUp(
    'Loaded run',
    { 'Secondary volts': 'Bench meter', 'Secondary amps': 'Clamp', 'Primary volts': 'Pocket meter' },
    {
      'Amps planned': '5',
      'Amps into a short': '90',
      'Class of the insulation': 'Not known',
      'Strands or windings': 'No',
      'Minutes with power on': '10',
      'An output over 50 V': 'No',
    },
  );
  await place.live();
  // 24 V behind 0.2 ohm, the load turned up by half an ampere a second.
  const onMs = performance.now();
  const amps = () => Math.min(5, 0.5 + Math.floor((performance.now() - onMs) / 1000) / 2);
  shown = {
    Clamp: () => `${amps().toFixed(3)} A AC`,
    'Bench meter': () => `${(24 - 0.2 * amps()).toFixed(2)} V AC`,
  };
  await at.type({ 'Primary volts': '230' });
  await at.expectResult(/Volts with no load\s*(23\.9|24\.0)/, /Resistance of the output\s*0\.(19|20)/);
  await at.powerOff(() => (shown = { 'Bench meter': '0.00 V AC', Clamp: '0.000 A AC' }), 'Secondary volts');
  await at.endRun();
});

it('finds how hot the winding was from its resistance, read in proving once the plug is out and the volts fell', async () => {
  await place.open('Dimmer core C', mains, { value: 3.42, u: 0.001 });
  shown = dead;
  await at.setUp(
    'Cooling after switch-off',
    { 'Primary volts': 'Bench meter', 'Ohms of the cooling': 'Ohmmeter', Ambient: 'Room thermometer' },
    { 'Class of the insulation': 'F, 155 °C' },
  );
  await place.live();
  shown = powered;
  await at.person.reads('Primary volts', /^230/);
  await at.type({ Ambient: '20' });
  await at.powerOff(() => (shown = dead));
  // Kulshreshtha, Basic Electrical Engineering, Ex. 2.18 p. 32: 3.42 ohm at 20 °C, 4.22 ohm hot, which is 79.59 °C with its
  // own constant (79.5 °C with that of IEC 60076-2). Played as a winding that cools with 6 s.
  const { guard } = await bench.ask('app.present', {});
  const offMs = performance.now() - (guard.nowMs - (guard.state.power?.offAtMs ?? NaN));
  const ohms = () => 3.42 + 0.8 * Math.exp(-(performance.now() - offMs) / 6000);
  shown = { ...dead, Ohmmeter: () => `${ohms().toFixed(4)} Ohm` };
  const first = page.getByRole('region', { name: 'Before the ohms' });
  await first.getByText('Pull the plug and tick it').waitFor();
  await page.getByRole('region', { name: 'Ohms of the cooling winding' }).getByText('Shown, not recorded.').waitFor();
  await at.person.tick('The plug is out');
  await first.getByText('Ohms are taken.').waitFor();
  await page
    .getByRole('region', { name: 'Ohms of the cooling winding' })
    .getByText('Shown, not recorded.')
    .waitFor({ state: 'detached' });
  await at.expectResult(/At switch-off\s*4\.2/, /Winding, mean\s*(79\.|80\.[0-4])/);
  await at.endRun();
});

it('plays a published short-circuit test as meters: the published impedance on screen', async () => {
  await place.open('Dimmer core D', { ...variable, fuseAmps: 16 }, null);
  shown = { 'Bench meter': '0.00 V AC', Clamp: '0.000 A AC', Wattmeter: '0.0 W' };
  await at.setUp(
    'Short-circuit test',
    { 'Primary volts': 'Bench meter', 'Line amps': 'Clamp', Watts: 'Wattmeter' },
    { 'Winding that is shorted': 'Secondary', 'The fed winding': 'More turns', 'Rated amps': '12' },
  );
  await place.live();
  // Theraja, A Textbook of Electrical Technology, Ex. 32.36 p. 1152.
  shown = { 'Bench meter': '15.00 V AC', Clamp: '10.000 A AC', Wattmeter: '85.0 W' };
  await at.person.reads('Primary volts', /^15/);
  await at.person.reads('Line amps', /^10/);
  await at.person.reads('Watts', /^85/);
  await at.keep();
  await at.expectResult(/Impedance\s*1\.50/, /Resistance\s*0\.850/, /Leakage reactance\s*1\.2359/);
  await at.powerOff(() => (shown = { 'Bench meter': '0.00 V AC', Clamp: '0.000 A AC', Wattmeter: '0.0 W' }));
  await at.endRun();
});
