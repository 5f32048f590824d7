import { expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { failed } from '../../src-shared/contract/failure.ts';
import { BenchFixture } from './bench/bench-fixture.ts';
import { showBench } from './bench/show-bench.ts';
import { FakeProgram } from './fake-program.ts';
import { benchMeter, dimmerCore } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const button = (name: string | RegExp) => page.getByRole('button', { name });
const labelled = (name: string | RegExp) => page.getByLabelText(name);

/** The page goes as a reload takes it: what it did not keep is gone. */
const gone = () => document.querySelector('#app')?.remove();

test('a half-filled core is still there after a reload, refused texts too, and is gone once it is kept', async () => {
  const program = new FakeProgram();
  await showPage(program, '#/core/new');
  await labelled('Label').fill('Half a core');
  await labelled('Tongue width if known').fill('4O');
  await page.getByRole('radio', { name: 'Two limbs' }).click();
  gone();
  await showPage(program, '#/core/new');
  await expect.element(labelled('Label')).toHaveValue('Half a core');
  await expect.element(labelled('Tongue width if known')).toHaveValue('4O');
  await expect.element(page.getByRole('radio', { name: 'Two limbs' })).toBeChecked();
  await labelled('Tongue width if known').fill('40');
  await button('Put it on the shelf').click();
  await expect.poll(() => location.hash).toMatch(/^#\/core\/\d+$/);
  expect(inputsOf(program, 'core.save')).toMatchObject([{ fields: { shape: 'two-limb', tongue: { value: 40 } } }]);
  gone();
  await showPage(program, '#/core/new');
  await expect.element(labelled('Label')).toHaveValue('');
});

test('a half-filled winding is still there after a reload', async () => {
  const program = new FakeProgram();
  const coreId = program.addCore(dimmerCore);
  await showPage(program, `#/core/${coreId}`);
  await button('Add the primary').click();
  await labelled('Resistance if known').fill('2,1');
  gone();
  await showPage(program, `#/core/${coreId}`);
  await button('Add the primary').click();
  await expect.element(labelled('Resistance if known')).toHaveValue('2,1');
});

test('a half-described meter is still there after a reload: port with its lasting name, ranges, how it is asked', async () => {
  const program = new FakeProgram();
  program.ports = { ports: [{ path: '/dev/ttyUSB0', identity: 'adapter-1', label: 'Adapter' }], failed: null };
  await showPage(program, '#/meters/new');
  await button(/ttyUSB0/).click();
  await page.getByRole('radio', { name: 'when it is asked' }).click();
  await labelled('Query').fill('MEAS?');
  await button('Add a range').click();
  await labelled('Top of range').fill('200');
  gone();
  await showPage(program, '#/meters/new');
  await expect.element(labelled('Top of range')).toHaveValue('200');
  await labelled('Name').fill('Taken up again');
  await labelled('One step').fill('0,1');
  await labelled('% of reading').fill('1');
  await labelled('digits').fill('5');
  await button('Keep this meter').click();
  await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
  expect(inputsOf(program, 'meter.save')[0]).toMatchObject({
    description: {
      port: { path: '/dev/ttyUSB0', identity: 'adapter-1' },
      talk: { mode: 'ask', query: 'MEAS?' },
      ranges: [{ top: 200, resolution: 0.1 }],
    },
  });
});

test('a correction that nobody began starts from what the record holds now; one that was begun is not overwritten', async () => {
  const program = new FakeProgram();
  const meterId = program.addMeter(benchMeter);
  const revise = (label: string) => {
    const [meter] = program.meters;
    if (meter === undefined) throw new Error('The meter is on the list.');
    program.meters[0] = { ...meter, revisionId: meter.revisionId + 100, description: { ...meter.description, label } };
    program.push({ kind: 'changed', what: 'meter', id: meterId });
  };
  await showPage(program, `#/meters/${meterId}`);
  await expect.element(labelled('Name')).toHaveValue(benchMeter.label);
  revise('Named elsewhere');
  await expect.element(labelled('Name')).toHaveValue('Named elsewhere');
  await labelled('Category if known').fill('CAT II 300 V');
  revise('Named once more');
  await expect.element(page.getByRole('heading', { level: 1, name: 'Named once more' })).toBeVisible();
  await expect.element(labelled('Category if known')).toHaveValue('CAT II 300 V');
});

test('a half-filled session is still there after a reload, with the winding that it feeds', async () => {
  const fixture = new BenchFixture();
  await showBench(fixture);
  await labelled('Core and build').selectOptions('Dimmer core B · build 1, As found');
  await labelled('Winding that is fed').selectOptions('Not known which');
  await labelled('Highest volts it can give').fill('23,5 V');
  gone();
  await showBench(fixture);
  await expect.element(labelled('Highest volts it can give')).toHaveValue('23,5 V');
  await expect.element(labelled('Core and build')).toHaveDisplayValue(/build 1/);
  await expect.element(labelled('Winding that is fed')).toHaveDisplayValue('Not known which');
});

test('who reads what stays chosen while a refused meter is put right on its page, and over a reload', async () => {
  const fixture = new BenchFixture();
  const { program } = fixture;
  fixture.openSession();
  program.guard = { ...fixture.states().unproved, setUp: null };
  program.instead['bench.set-up'] = () =>
    failed('guard-refused', 'Bench meter has no category.', { path: 'channels', detail: { channel: 'primary-volts' } });
  await showBench(fixture, { part: 'set-up' });
  await page.getByText('Heat run at no load').click();
  const form = page.getByRole('form', { name: 'Who reads what' });
  await form.getByLabelText('Amps at the start if known').fill('0,8');
  location.hash = '#/meters';
  await expect.element(page.getByRole('heading', { name: 'Meters', exact: true })).toBeVisible();
  location.hash = '#/bench/set-up';
  await expect.element(form.getByLabelText('Amps at the start if known')).toHaveValue('0,8');
  gone();
  await showBench(fixture, { part: 'set-up' });
  await expect.element(form.getByLabelText('Amps at the start if known')).toHaveValue('0,8');
});
