import { describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { failed } from '../../src-shared/contract/failure.ts';
import { FakeProgram } from './fake-program.ts';
import { benchMeter } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const field = (name: string | RegExp) => page.getByLabelText(name);

describe('describing a meter', () => {
  test('tells a failed list of ports from an empty one, and takes a typed path all the same', async () => {
    const program = new FakeProgram();
    program.ports = { ports: [], failed: 'The tool that lists them is missing.' };
    await showPage(program, '#/meters/new');
    await expect.element(page.getByText('The ports could not be listed')).toBeVisible();
    await expect.element(page.getByText(/The tool that lists them is missing/)).toBeVisible();
    program.ports = { ports: [], failed: null };
    await page.getByRole('button', { name: 'List again' }).click();
    await expect.element(page.getByText(/No port is there/)).toBeVisible();
    await field('Name').fill('Typed path');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.poll(() => location.hash).toBe('#/meters');
    expect(inputsOf(program, 'meter.save')).toMatchObject([
      { description: { kind: 'serial', label: 'Typed path', port: { path: '/dev/pts/7', identity: null } } },
    ]);
  });

  test('keeps the lasting name of a port that was picked', async () => {
    const program = new FakeProgram();
    program.ports = { ports: [{ path: '/dev/ttyUSB0', identity: 'adapter-1', label: 'Adapter' }], failed: null };
    await showPage(program, '#/meters/new');
    await field('Name').fill('Picked');
    await page.getByRole('button', { name: /ttyUSB0/ }).click();
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
    expect(inputsOf(program, 'meter.save')[0]).toMatchObject({
      description: { port: { path: '/dev/ttyUSB0', identity: 'adapter-1' } },
    });
  });

  test('works the accuracy of a range beside it: 1.2 % of 120 V and 5 steps of 0.1 V are 1.9 V', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await page.getByRole('button', { name: 'Add a range' }).click();
    await field('Top of range').fill('200');
    await field('One step').fill('0,1');
    await field('% of reading').fill('1.2');
    await field('digits').fill('5');
    await expect.element(page.getByText(/At 120 V on this range: ± 1\.9 V/)).toBeVisible();
    await page.getByRole('button', { name: 'Add the next range' }).click();
    await expect.element(page.getByText(/At 1200 V on this range: ± 19 V/)).toBeVisible();
  });

  test('says at the box what is wrong with a description', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await page.getByRole('button', { name: 'Add a range' }).click();
    await field(/^Rated up to/).fill('a lot');
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.element(page.getByText('Label must be text of 1 to 60 characters.')).toBeVisible();
    await expect.element(page.getByText('Port must be text of 1 to 400 characters.')).toBeVisible();
    await expect.element(page.getByText(/Highest rated volts must be a number from 1 to 10000 V/)).toBeVisible();
    await expect.element(page.getByText(/Top of the range must be a number/)).toBeVisible();
    await expect.element(field(/^Rated up to/)).toHaveValue('a lot');
    expect(inputsOf(program, 'meter.save')).toEqual([]);
  });

  test('says why an isolated lead matters until it is known to be one', async () => {
    const program = new FakeProgram();
    const meterId = program.addMeter(benchMeter);
    await showPage(program, `#/meters/${meterId}`);
    await expect.element(page.getByText(/ties the circuit under test to the computer/)).not.toBeInTheDocument();
    await page
      .getByRole('group', { name: /Is the lead to the computer isolated/ })
      .getByRole('radio', { name: 'Not known' })
      .click();
    await expect.element(page.getByText(/ties the circuit under test to the computer/)).toBeVisible();
  });

  test('does without a port for a meter whose values are typed', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Name').fill('Pocket meter');
    await page.getByRole('radio', { name: 'are typed' }).click();
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
    expect(inputsOf(program, 'meter.save')[0]).toMatchObject({ description: { kind: 'keyboard', maxVolts: null } });
  });
});

describe('listening before keeping', () => {
  test('shows every line as it came and how it was read or why not, newest first', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen' }).click();
    await expect.element(page.getByRole('button', { name: 'Stop' })).toBeVisible();
    program.push({
      kind: 'tried',
      tryId: 1,
      heard: 'Answering.',
      lines: [
        {
          atMs: 1,
          text: 'AC  23.72 V',
          read: { kind: 'read', values: [{ name: 'value', value: { kind: 'number' } }] },
          sentence: '23.72 V ac',
        },
        { atMs: 2, text: '????', read: { kind: 'dropped', why: 'unprintable' }, sentence: 'Bytes that are no text.' },
      ],
    });
    await expect.element(page.getByText('23.72 V ac')).toBeVisible();
    const lines = page.getByRole('list', { name: /Lines as they came/ }).getByRole('listitem');
    await expect
      .poll(() => lines.elements().map((node) => node.querySelector('code')?.textContent))
      .toEqual(['????', 'AC··23.72·V']);
    await page.getByRole('button', { name: 'Stop' }).click();
    await expect.poll(() => inputsOf(program, 'meter.try-stop').length).toBe(1);
  });

  test('asks only for what listening needs, and puts a refusal at the port', async () => {
    const program = new FakeProgram();
    program.instead['meter.try'] = () =>
      failed('port-taken', 'Another meter holds this port.', { path: 'description.port.path' });
    await showPage(program, '#/meters/new');
    await page.getByRole('button', { name: 'Add a range' }).click();
    await page.getByRole('button', { name: 'Listen' }).click();
    await expect.element(page.getByText('Port must be text of 1 to 400 characters.')).toBeVisible();
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen' }).click();
    await expect
      .poll(() => document.querySelector('#meter-port-refusal')?.textContent)
      .toContain('Another meter holds this port.');
  });

  test('stops when the page is left', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen' }).click();
    await expect.element(page.getByRole('button', { name: 'Stop' })).toBeVisible();
    location.hash = '#/shelf';
    await expect.poll(() => inputsOf(program, 'meter.try-stop').length).toBe(1);
  });
});
