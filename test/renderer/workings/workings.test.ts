import { beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent, type Locator } from 'vitest/browser';
import { calculations } from '../../../src-shared/calculation/table.ts';
import { inputInAddress } from '../../../src-renderer/page/workings/input-address.ts';
import { FakeProgram } from '../fake-program.ts';
import { showPage } from '../show-page.ts';

beforeEach(() => {
  localStorage.clear();
});

const result = page.getByRole('region', { name: 'Result' });
const heading = (title: string) => page.getByRole('heading', { level: 1, name: title, exact: true });
const box = (label: string) => page.getByRole('textbox', { name: label, exact: true });
const button = (name: string) => page.getByRole('button', { name });

async function open(name: string, units: 'metric' | 'us' = 'metric') {
  const program = new FakeProgram();
  program.settings = { ...program.settings, units };
  return showPage(program, `#/workings/${name}`);
}

const says = (where: Locator, words: RegExp) => expect.poll(() => where.element().textContent).toMatch(words);

/** Gives the keys of the page to the page. */
const leaveBoxes = () => {
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
};

function paste(into: Element, text: string) {
  const clipboardData = new DataTransfer();
  clipboardData.setData('text/plain', text);
  into.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
}

describe('every calculation', () => {
  test('opens by itself, takes its example, answers, and says all of it in words', async () => {
    const workshop = await open('wire');
    for (const { name, title, example } of Object.values(calculations)) {
      workshop.route.go({ kind: 'workings', name, given: null });
      await expect.element(heading(title)).toBeVisible();
      leaveBoxes();
      await userEvent.keyboard('e');
      await expect.element(page.getByRole('heading', { level: 2, name: 'Working' })).toBeVisible();
      const said = result.element().textContent;
      expect(said, name).not.toMatch(/undefined|NaN|\[object|null|Infinity/);
      expect(said.length, name).toBeGreaterThan(20);
      const json = page.getByLabelText('The input as JSON').element().textContent;
      expect(JSON.parse(json), name).toEqual(JSON.parse(JSON.stringify(example)));
    }
  });
});

describe('the index', () => {
  test('is walked with the keyboard: find, move, open, and back', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/workings');
    await expect.element(heading('Workings')).toBeVisible();
    await userEvent.keyboard('/');
    await userEvent.keyboard('time constant');
    await expect.element(page.getByText(/^\d of \d+ calculations$/)).toBeVisible();
    await userEvent.keyboard('{ArrowDown}');
    await expect.element(page.getByRole('link', { name: 'How long on, how long off' })).toHaveFocus();
    await userEvent.keyboard('{ArrowRight}');
    await expect.element(page.getByRole('link', { name: 'Where a heat run will end' })).toHaveFocus();
    await userEvent.keyboard('{Enter}');
    await expect.element(heading('Where a heat run will end')).toBeVisible();
    leaveBoxes();
    await userEvent.keyboard('/');
    await expect.element(heading('Workings')).toBeVisible();
  });

  test('opens the first that was found with Enter, and empties the box with Escape', async () => {
    await showPage(new FakeProgram(), '#/workings');
    const find = page.getByRole('searchbox');
    await find.fill('aluminium by resistance');
    await find.fill('perpetual motion');
    await expect.element(page.getByText(/Nothing here speaks of/)).toBeVisible();
    await userEvent.keyboard('{Escape}');
    await expect.element(find).toHaveValue('');
    await find.fill('fuse');
    await userEvent.keyboard('{Enter}');
    await expect.poll(() => location.hash).toMatch(/^#\/workings\/[a-z-]+$/);
  });

  test('says so when an address names none', async () => {
    await showPage(new FakeProgram(), '#/workings/perpetual-motion');
    await expect.element(page.getByText('There is no calculation “perpetual-motion”.')).toBeVisible();
  });
});

describe('a form', () => {
  test('says what is still needed, and answers while it is typed', async () => {
    await open('polarity');
    await box('Volts of the first winding alone').fill('12,1');
    await says(result, /Still needed:/);
    await expect.element(button('Volts of the second winding alone')).toBeVisible();
    await box('Volts of the second winding alone').fill('6200 mV');
    await box('Volts across both, joined end to end').fill('18.2 ± 0.05');
    await says(result, /Aid/);
    await userEvent.tab();
    await expect.element(box('Volts across both, joined end to end, give or take')).toHaveValue('0.05');
  });

  test('shows a refusal at its field, in the unit that stands there, and loses nothing', async () => {
    await open('wire', 'us');
    await box('Bare diameter optional').fill('4');
    const field = box('Bare diameter optional');
    await expect.element(field).toHaveAttribute('aria-invalid', 'true');
    await expect.element(page.getByText('Type a number above 0 up to 3.937 in.').first()).toBeVisible();
    await says(result, /Type a number above 0 up to 3\.937 in\./);
    await expect.element(field).toHaveValue('4');
    await field.fill('0.08');
    await expect.element(field).toHaveAttribute('aria-invalid', 'false');
    await says(result, /0\.08\sin/);
  });

  test('shows what the calculation itself refuses at the field that it names', async () => {
    await open('heat-run');
    leaveBoxes();
    await userEvent.keyboard('e');
    await page.getByRole('combobox', { name: /^Class of the insulation/ }).selectOptions('B');
    await expect.element(page.getByRole('button', { name: 'Go to it' })).toBeVisible();
    await button('Go to it').click();
    expect(document.activeElement?.getAttribute('aria-invalid')).toBe('true');
  });

  test('names the row that is fed by its name', async () => {
    await open('winding-volts');
    leaveBoxes();
    await userEvent.keyboard('e');
    const fed = page.getByRole('combobox', { name: 'Which winding is fed' });
    await expect.element(fed).toHaveDisplayValue('1: primary');
    await fed.selectOptions('3: test coil');
    await says(page.getByLabelText('The input as JSON'), /"fedIndex": 2/);
  });

  test('asks only for the method that was chosen', async () => {
    await open('power-without-wattmeter');
    await page.getByRole('combobox', { name: 'Method' }).selectOptions('Heat slope');
    await expect.element(page.getByRole('heading', { name: 'Heat slope in the first minutes' })).toBeVisible();
    expect(page.getByRole('heading', { name: /Three ammeters/ }).query()).toBeNull();
    await says(result, /Heat slope in the first minutes: Iron/);
  });

  test('takes what is known of a doubt, for one row or all', async () => {
    await open('loaded-run');
    leaveBoxes();
    await userEvent.keyboard('e');
    await button('What is known of the ± of Output volts, row 1').click();
    const dialog = page.getByRole('dialog', { name: 'Output volts, row 1' });
    await dialog.getByRole('textbox', { name: /^Give or take/ }).fill('0,5 %');
    await dialog.getByRole('radio', { name: /^Limits, anywhere/ }).click();
    await dialog.getByRole('button', { name: 'The same on every row' }).click();
    const input: unknown = JSON.parse(page.getByLabelText('The input as JSON').element().textContent);
    expect(input).toMatchObject({
      points: [
        { volts: { value: 24.9, u: 0.071880109, shape: 'rectangular' } },
        { volts: { shape: 'rectangular' } },
        { volts: { shape: 'rectangular' } },
        { volts: { shape: 'rectangular' } },
      ],
    });
  });
});

describe('a list', () => {
  test('takes rows from a spreadsheet, with their headings left out, and gives them back', async () => {
    await open('heat-run');
    const first = page.getByRole('textbox', { name: 'Time from power on, row 1', exact: true });
    await first.click();
    const rows = Array.from({ length: 12 }, (_, at) => `${at * 600}\t${(70 - 50 * Math.exp(-at / 4)).toFixed(1)}`);
    paste(first.element(), `time\ttemperature\n${rows.join('\n')}`);
    await expect.element(page.getByText('12 rows pasted; the line of headings was left out.')).toBeVisible();
    await expect.element(box('Temperature, row 12')).toHaveValue('66.8');
    await says(result, /Where it would end/);
    leaveBoxes();
    await userEvent.keyboard('u');
    await expect.element(first).toHaveValue('');
  });

  test('takes a column of its own into the ± of every row', async () => {
    await open('heat-run');
    const doubt = box('Temperature, row 1, give or take');
    await expect.element(doubt).toBeVisible();
    paste(doubt.element(), '0,1\n0,2\n0,3');
    await expect.element(box('Temperature, row 3, give or take')).toHaveValue('0,3');
  });

  test('is typed down its columns, and its rows are moved and removed by keys', async () => {
    await open('loaded-run');
    await page.getByRole('textbox', { name: 'Load current, row 1', exact: true }).click();
    await userEvent.keyboard('0{Enter}10{Enter}20{Enter}');
    await expect.element(box('Load current, row 4')).toHaveFocus();
    await userEvent.keyboard('{ArrowUp}');
    await expect.element(box('Load current, row 3')).toHaveFocus();
    await userEvent.keyboard('{Alt>}{ArrowUp}{/Alt}');
    await expect.element(box('Load current, row 2')).toHaveValue('20');
    await expect.element(box('Load current, row 2')).toHaveFocus();
    await userEvent.keyboard('{Alt>}{Delete}{/Alt}');
    await expect.element(box('Load current, row 2')).toHaveValue('10');
    leaveBoxes();
    await userEvent.keyboard('u');
    await expect.element(box('Load current, row 2')).toHaveValue('20');
  });

  test('shows more columns when they are asked for', async () => {
    await open('test-coil');
    const chip = button('Meters exchanged');
    await expect.element(chip).toHaveAttribute('aria-pressed', 'false');
    await chip.click();
    await page.getByRole('checkbox', { name: 'Meters exchanged, row 1' }).click();
    await expect.element(chip).toHaveAttribute('aria-disabled', 'true');
  });
});

describe('inputs', () => {
  test('stand in the address, and come back from it', async () => {
    const workshop = await open('joint-gap');
    leaveBoxes();
    await userEvent.keyboard('e');
    const code = inputInAddress(calculations['joint-gap'].example);
    await expect.poll(() => location.hash).toBe(`#/workings/joint-gap/${code}`);
    const other = inputInAddress({ turns: 240, addedAmps: 0.5, peakTesla: 1.5 });
    workshop.route.go({ kind: 'workings', name: 'joint-gap', given: other });
    await expect.element(box('Turns that carry the current')).toHaveValue('240');
    leaveBoxes();
    await userEvent.keyboard('u');
    await expect.element(box('Turns that carry the current')).toHaveValue('120');
  });

  test('that cannot be read from an address are said, and change nothing', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/workings/joint-gap/!!');
    await expect.element(page.getByText(/could not be read/)).toBeVisible();
  });

  test('are kept over a reload, as they were typed', async () => {
    await open('joint-gap');
    await box('Turns that carry the current').fill('1,2e2');
    await expect.poll(() => localStorage.getItem('turnwright.workings.joint-gap')).toContain('1,2e2');
    document.getElementById('app')?.remove();
    await open('joint-gap');
    await expect.element(box('Turns that carry the current').last()).toHaveValue('1,2e2');
  });

  test('are kept over a reload that comes before the address tells them', async () => {
    const { route } = await open('joint-gap');
    await box('Turns that carry the current').fill('120');
    await expect.poll(() => location.hash).toMatch(/^#\/workings\/joint-gap\/[\w-]+$/);
    await box('Peak flux density').fill('1,5');
    const { hash } = location;
    route.go({ kind: 'meters' });
    await expect.element(heading('Meters')).toBeVisible();
    route.stop();
    document.getElementById('app')?.remove();
    await showPage(new FakeProgram(), hash);
    await expect.element(box('Peak flux density')).toHaveValue('1,5');
    await expect.element(box('Turns that carry the current')).toHaveValue('120');
  });

  test('come from JSON, and what is no JSON is refused', async () => {
    await open('joint-gap');
    await page.getByText('As JSON, and on the command line').click();
    await expect.element(page.getByText('npm run -s calc -- joint-gap < input.json')).toBeVisible();
    const field = page.getByLabelText('Take an input from JSON');
    await field.fill('{');
    await button('Take it').click();
    await expect.element(page.getByRole('alert').getByText(/This is not JSON/)).toBeVisible();
    await field.fill('{"turns": 99, "addedAmps": {"value": 0.5, "u": 0.01}, "peakTesla": 1.5}');
    await button('Take it').click();
    await expect.element(box('Turns that carry the current')).toHaveValue('99');
    await expect.element(box('Added magnetising current, r.m.s., give or take')).toHaveValue('0.01');
  });

  test('are shown in the units of the person, and results too', async () => {
    await open('core-rating', 'us');
    leaveBoxes();
    await userEvent.keyboard('e');
    await expect.element(box('Tongue optional')).toHaveValue('1.49606299');
    await expect.element(page.getByRole('combobox', { name: 'Unit of Tongue' })).toHaveValue('in');
    await says(result, /in²/);
  });
});
