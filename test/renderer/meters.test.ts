import { describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { failed } from '../../src-shared/contract/failure.ts';
import { FakeProgram, fakeWallMs } from './fake-program.ts';
import { usualPortSettings } from '../../src-shared/meter/port-settings.ts';
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

  test('leaves whoever went elsewhere while it was kept where they went', async () => {
    const program = new FakeProgram();
    program.heldBack = 'meter.save';
    await showPage(program, '#/meters/new');
    await field('Name').fill('Kept slowly');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
    location.hash = '#/bench';
    await expect.element(page.getByRole('heading', { name: 'Begin at the bench' })).toBeVisible();
    program.letGo();
    await expect.element(page.getByRole('heading', { name: 'Begin at the bench' })).toBeVisible();
    expect(location.hash).toBe('#/bench');
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
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
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
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await expect.element(page.getByText('Port must be text of 1 to 400 characters.')).toBeVisible();
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await expect
      .poll(() => document.querySelector('#meter-port-refusal')?.textContent)
      .toContain('Another meter holds this port.');
  });

  test('stops when the page is left', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await expect.element(page.getByRole('button', { name: 'Stop' })).toBeVisible();
    location.hash = '#/shelf';
    await expect.poll(() => inputsOf(program, 'meter.try-stop').length).toBe(1);
  });
});

const line = (text: string, atMs: number) => ({
  atMs,
  text,
  read: { kind: 'read', values: [{ name: 'value', value: { kind: 'number' } }] },
  sentence: text,
});

describe('whatever the person has', () => {
  test('describes a meter that is asked, with its commands, and several values on its lines', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Name').fill('Power meter');
    await field('Port').fill('/dev/ttyUSB0');
    await page.getByRole('radio', { name: 'when it is asked' }).click();
    await field('Query').fill('MEAS?');
    await field(/^Asked every/).fill('0,25');
    await field(/^Sent once after opening/).fill('*RST\n\n*IDN?');
    await page.getByRole('button', { name: 'It has several' }).click();
    await page.getByRole('button', { name: 'Add a value' }).click();
    const rows = page.getByRole('group', { name: /^Value \d/ });
    await rows.nth(0).getByLabelText('Name').fill('volts');
    await rows.nth(0).getByLabelText(/^Unit/).selectOptions('V');
    await rows.nth(0).getByLabelText(/^Kind/).selectOptions('a.c.');
    await rows.nth(1).getByLabelText('Name').fill('watts');
    await rows
      .nth(1)
      .getByLabelText(/^Found by/)
      .selectOptions('label');
    await rows.nth(1).getByLabelText('Label', { exact: true }).fill('P');
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
    expect(inputsOf(program, 'meter.save')[0]).toMatchObject({
      description: {
        talk: {
          mode: 'ask',
          query: 'MEAS?',
          intervalMs: 250,
          timeoutMs: 2000,
          opening: ['*RST', '*IDN?'],
          lineEnd: 'lf',
        },
        values: [
          { name: 'volts', from: { by: 'position', position: 0 }, unit: 'V', coupling: 'ac' },
          { name: 'watts', from: { by: 'label', label: 'P' }, unit: null, coupling: null },
        ],
      },
    });
  });

  test('tries a pattern on the lines just heard while it is typed, and says at its box what is wrong', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await expect.element(page.getByRole('button', { name: 'Stop' })).toBeVisible();
    program.push({ kind: 'tried', tryId: 1, heard: 'Answering.', lines: [line('#N0=118,6;V~', 1)] });
    await page.getByRole('radio', { name: 'by a pattern of mine' }).click();
    await field('Pattern').fill('N0=(?<value>');
    await expect.element(page.getByText(/The pattern ends too early/)).toBeVisible();
    await field('Pattern').fill('N0=(?<value>[0-9,]+);(?<unit>V)');
    await page.getByRole('radio', { name: '1,5' }).click();
    await expect.element(page.getByText('118.6 V', { exact: true })).toBeVisible();
    await field('Pattern').fill('M0=(?<value>[0-9,]+)');
    await expect.element(page.getByText('The pattern does not fit it.')).toBeVisible();
  });

  test('finds the rate with its progress, can be called off, and takes over what was heard', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await page.getByRole('button', { name: 'Find the rate' }).click();
    await expect.element(page.getByText('Pick or type the port to listen to.')).toBeVisible();
    await field('Port').fill('/dev/ttyUSB0');
    await page.getByRole('button', { name: 'Find the rate' }).click();
    const settings = {
      ...usualPortSettings,
      path: '/dev/ttyUSB0',
      baudRate: 2400,
      dataBits: 7,
      parity: 'even',
    } as const;
    const search = { kind: 'port-search', findId: 1, steps: 18 } as const;
    program.push({ ...search, trying: settings, step: 3, heard: '', outcome: null });
    await expect.element(page.getByText(/3 of at most 18/)).toBeVisible();
    await page.getByRole('button', { name: 'Call off' }).click();
    await expect.poll(() => inputsOf(program, 'meter.try-stop').length).toBe(1);
    await page.getByRole('button', { name: 'Find the rate' }).click();
    program.push({
      ...search,
      findId: 2,
      trying: null,
      step: 1,
      heard: '',
      outcome: {
        kind: 'heard',
        settings,
        sureness: 'sure',
        encoding: 'ascii',
        decimal: 'comma',
        sample: ['118,6 V'],
        sentence: '2400 baud',
      },
    });
    await page.getByRole('button', { name: 'Take these settings' }).click();
    await expect.element(field('Baud rate')).toHaveValue('2400');
    await expect.element(field('Parity')).toHaveValue('even');
    await expect.element(page.getByRole('radio', { name: '1,5' })).toBeChecked();
  });

  test('keeps the lines just heard with the meter, and plays them back', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await field('Name').fill('Kept');
    await field('Port').fill('/dev/pts/7');
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await expect.element(page.getByRole('button', { name: 'Stop' })).toBeVisible();
    program.push({ kind: 'tried', tryId: 1, heard: '', lines: [line('23.7 V AC', 1000), line('23.8 V AC', 1500)] });
    await page.getByRole('button', { name: 'Keep these lines with the meter' }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByRole('button', { name: 'Play them back' }).click();
    const lines = [
      { afterMs: 0, text: '23.7 V AC' },
      { afterMs: 500, text: '23.8 V AC' },
    ];
    await expect.poll(() => inputsOf(program, 'meter.replay').length).toBe(1);
    expect(inputsOf(program, 'meter.replay')).toMatchObject([{ sample: { lines } }]);
    await page.getByRole('button', { name: 'Keep this meter' }).click();
    await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
    expect(inputsOf(program, 'meter.save')).toMatchObject([{ description: { sample: { lines } } }]);
  });

  test('makes a correction of a check, and takes the correction of a range that goes with it', async () => {
    const program = new FakeProgram();
    const check = {
      wallMs: fakeWallMs,
      who: 'Rowan',
      unit: 'V',
      rangeIndex: 0,
      shown: 12.3,
      resolution: 0.01,
      reference: { label: 'Voltage reference', value: 12, u: 0.005 },
      verdict: 'outside',
    } as const;
    const range = {
      unit: 'V',
      coupling: 'ac',
      top: 20,
      resolution: 0.01,
      percentOfReading: 0.8,
      digits: 5,
      shape: 'rectangular',
    } as const;
    const meterId = program.addMeter({ ...benchMeter, ranges: [range], checks: [check] });
    await showPage(program, `#/meters/${meterId}`);
    await expect.element(page.getByText(/showed 12\.30 V against 12 V/)).toBeVisible();
    await expect.element(page.getByText('Off by more than its sheet allows')).toBeVisible();
    await page.getByRole('button', { name: 'Use as a correction' }).click();
    await expect.element(page.getByText(/readings × 0\.97561/)).toBeVisible();
    await page.getByRole('button', { name: 'Keep the description' }).click();
    await expect.poll(() => inputsOf(program, 'meter.save').length).toBe(1);
    expect(inputsOf(program, 'meter.save')).toMatchObject([
      { description: { corrections: [{ rangeIndex: 0, against: 'Voltage reference' }] } },
    ]);
  });
});
