import { expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { BenchFixture } from './bench/bench-fixture.ts';
import { showBench } from './bench/show-bench.ts';
import { FakeProgram } from './fake-program.ts';
import { inputsOf, showPage } from './show-page.ts';

const button = (name: string | RegExp) => page.getByRole('button', { name });
const focused = () => document.activeElement?.id;

test('settings take volts with their unit, and lead to the box that was refused', async () => {
  const program = new FakeProgram();
  await showPage(program, '#/shelf');
  await button(/^Settings/).click();
  await page.getByLabelText('Mains volts here').fill('12O');
  await button('Keep these settings').click();
  await expect.poll(focused).toBe('settings-volts');
  await page.getByLabelText('Mains volts here').fill('120 V');
  await button('Keep these settings').click();
  await expect.poll(() => inputsOf(program, 'settings.save').length).toBe(1);
  expect(inputsOf(program, 'settings.save')).toMatchObject([{ settings: { mainsVolts: 120 } }]);
});

test('a session is opened in the person’s units, and leads to the box that was refused', async () => {
  const fixture = new BenchFixture();
  fixture.program.settings = { ...fixture.program.settings, units: 'us' };
  await showBench(fixture);
  await button('Open the session').click();
  await expect.poll(focused).toBe('session-build');
  await page.getByLabelText('Core and build').selectOptions('Dimmer core B · build 1, As found');
  await page.getByLabelText('Highest volts it can give').fill('0.024 kV');
  await page.getByLabelText('Room temperature if known').fill('200');
  await button('Open the session').click();
  await expect.element(page.getByText('Room temperature must be a number from -22 to 140 °F.')).toBeVisible();
  await expect.poll(focused).toBe('session-ambient');
  await page.getByLabelText('Room temperature if known').fill('68');
  await button('Open the session').click();
  await expect.poll(() => inputsOf(fixture.program, 'session.open').length).toBe(1);
  expect(inputsOf(fixture.program, 'session.open')).toMatchObject([
    { fields: { supply: { volts: 24 }, ambientCelsius: 20 } },
  ]);
});

test('the set-up leads to the first channel that nobody reads', async () => {
  const fixture = new BenchFixture();
  fixture.openSession();
  fixture.program.guard = { ...fixture.states().unproved, setUp: null };
  await showBench(fixture, { part: 'set-up' });
  await button('Set it up').click();
  await expect.poll(focused).toBe('meter-primary-volts');
});

test('a proof says what is missing from a meter without a d.c. volt range, and where to add it', async () => {
  const fixture = new BenchFixture();
  fixture.openSession();
  fixture.program.guard = fixture.states().unproved;
  fixture.program.meters.forEach((meter, index, all) => {
    const ranges = meter.description.ranges.filter(({ coupling }) => coupling !== 'dc');
    all[index] = { ...meter, description: { ...meter.description, ranges } };
  });
  await showBench(fixture, { part: 'prove' });
  await page.getByLabelText('Known d.c. source').fill('9 V');
  await userEvent.keyboard('{Enter}');
  await expect
    .element(page.getByText(/^No d\.c\. volt range of Bench meter is described\. Add it under Meters/))
    .toBeVisible();
  await expect.poll(focused).toBe('proof-dc-range');
});
