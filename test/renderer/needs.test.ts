import { beforeEach, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import type { NeedFields } from '../../src-shared/record/need.ts';
import { FakeProgram } from './fake-program.ts';
import { sheetParts } from '../shared/report/plan-fixture.ts';
import { dimmerCore, ovenCore, primary } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const cutters: NeedFields = {
  label: 'Foam cutters',
  volts: 24,
  amps: 9.5,
  feeds: 'ac',
  use: { kind: 'on-off', onMinutes: 10, offMinutes: 20 },
};

function shelfWith(...needs: readonly NeedFields[]): FakeProgram {
  const program = new FakeProgram();
  program.addCore(dimmerCore, [primary]);
  program.addCore(ovenCore);
  program.needs = needs.map((fields, at) => ({
    needId: at + 71,
    revisionId: at + 71,
    replaces: null,
    reason: null,
    wallMs: 0,
    retired: false,
    fields,
  }));
  return program;
}

const box = (name: string) => page.getByRole('dialog').getByLabelText(name);
const keep = page.getByRole('button', { name: 'Keep this need' });
const chosen = page.getByLabelText('For the need of');
const labels = () =>
  page
    .getByRole('heading', { level: 2 })
    .elements()
    .map((heading) => heading.textContent);

beforeEach(() => localStorage.clear());

describe('the form of a need', () => {
  test('takes decimal commas and the person’s units, and chooses what was kept', async () => {
    const program = shelfWith();
    program.settings = { ...program.settings, units: 'us', mainsVolts: 120, mainsHertz: 60 };
    await showPage(program, '#/shelf');
    await page.getByRole('button', { name: 'Write a need' }).click();
    await box('Name').fill('Foam cutters');
    await box('Volts under load').fill('24');
    await box('Amps at most').fill('9,5');
    await expect.element(page.getByText('228 VA of the winding')).toBeVisible();
    await page.getByText('On and off').click();
    await box('Minutes on').fill('10');
    await box('Minutes off').fill('20');
    await box('Breaker of its circuit if known').fill('15');
    await box('Room, at its warmest if known').fill('86');
    await keep.click();
    await expect
      .poll(() => inputsOf(program, 'need.save'))
      .toEqual([
        {
          fields: {
            ...cutters,
            ambientCelsius: 30,
            circuit: { volts: 120, hertz: 60, amps: 15 },
          },
        },
      ]);
    await expect
      .element(page.getByText('10 min on and 20 min off, on 120 V 60 Hz, 15 A', { exact: false }))
      .toBeVisible();
  });

  test('says at each box what is missing, keeps what was typed, and saves nothing', async () => {
    const program = shelfWith();
    await showPage(program, '#/shelf');
    await page.getByRole('button', { name: 'Write a need' }).click();
    await box('Volts under load').fill('2000');
    await box('Volts of it if known').fill('110');
    await keep.click();
    await expect.element(page.getByText('Volts must be a number from 0.1 to 1000 V.')).toBeVisible();
    await expect.element(page.getByText('Type the amps that the load draws at most.')).toBeVisible();
    await expect
      .element(page.getByText(/^Another line than the workshop’s: type the amps of its breaker/))
      .toBeVisible();
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Write a need' }).click();
    await expect.element(box('Volts under load')).toHaveValue('2000');
    expect(inputsOf(program, 'need.save')).toEqual([]);
  });

  test('stands after a reload as it was typed, until it is kept', async () => {
    const program = shelfWith();
    const reloaded = async () => {
      document.querySelector('#app')?.remove();
      await showPage(program, '#/shelf');
      await page.getByRole('button', { name: 'Write a need' }).click();
    };
    await showPage(program, '#/shelf');
    await page.getByRole('button', { name: 'Write a need' }).click();
    await box('Name').fill('Foam cutters');
    await box('Volts under load').fill('24');
    await box('Amps at most').fill('9,5');
    await page.getByText('On and off').click();
    await box('Minutes on').fill('ten');
    await reloaded();
    await expect.element(box('Amps at most')).toHaveValue('9,5');
    await expect.element(box('Minutes on')).toHaveValue('ten');
    await box('Minutes on').fill('10');
    await box('Minutes off').fill('20');
    await keep.click();
    await expect.poll(() => inputsOf(program, 'need.save')).toMatchObject([{ fields: cutters }]);
    await reloaded();
    await expect.element(box('Name')).toHaveValue('');
  });

  test('corrects with a reason, and retires with one', async () => {
    const program = shelfWith(cutters);
    await showPage(program, '#/shelf');
    await chosen.selectOptions('Foam cutters');
    await page.getByRole('button', { name: 'Correct it' }).click();
    await box('Amps at most').fill('12');
    await page.getByRole('button', { name: 'Keep the correction' }).click();
    await expect.element(page.getByText(/Say in a few words why it is corrected/)).toBeVisible();
    await box('Why it is corrected').fill('two at a time');
    await page.getByRole('button', { name: 'Keep the correction' }).click();
    await expect
      .poll(() => inputsOf(program, 'need.save'))
      .toEqual([{ needId: 71, reason: 'two at a time', fields: { ...cutters, amps: 12 } }]);
    await page.getByRole('button', { name: 'Retire it' }).click();
    await page.getByRole('button', { name: 'Built' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Retire it' }).click();
    await expect.poll(() => inputsOf(program, 'need.retire')).toEqual([{ needId: 71, reason: 'Built' }]);
    await expect.element(chosen).toHaveValue('');
  });
});

describe('the shelf for a need', () => {
  test('ranks the cores with a bar for each respect, and leads to the plan with the need', async () => {
    const program = shelfWith(cutters);
    await showPage(program, '#/shelf');
    await chosen.selectOptions('Foam cutters');
    await expect.poll(labels).toEqual(['Dimmer core B', 'Canteen oven']);
    await expect.element(page.getByText('Will do', { exact: true })).toBeVisible();
    await expect.element(page.getByText('May do', { exact: true })).toBeVisible();
    const bars = page.getByRole('list', { name: 'What the need takes of it' });
    expect(bars.elements()).toHaveLength(2);
    const flux = bars.nth(0).element().querySelector('[data-aspect="flux"]');
    // 230 / (√2 π 50 × 371.6 × 40 × 52 × 0.95 mm²) = 1.41 T of 1.6 T
    expect(flux?.textContent).toContain('88 %');
    await page.getByRole('button', { name: 'Every figure: Dimmer core B' }).click();
    await expect.element(page.getByText('1.41 T at 230 V 50 Hz with 371.6 turns.')).toBeVisible();
    await page.getByRole('link', { name: 'Plan it for this need: Dimmer core B' }).click();
    await expect.poll(() => location.hash).toMatch(/^#\/plan\/build-\d+\/need-71$/);
  });

  test('remembers the need and what is sifted out', async () => {
    const program = shelfWith(cutters);
    await showPage(program, '#/shelf');
    await chosen.selectOptions('Foam cutters');
    await page.getByLabelText('Show').selectOptions('without: primary turns');
    await expect.poll(labels).toEqual(['Canteen oven']);
    location.hash = '#/meters';
    await expect.element(page.getByRole('heading', { level: 1, name: 'Meters' })).toBeVisible();
    location.hash = '#/shelf';
    await expect.poll(labels).toEqual(['Canteen oven']);
    await expect.element(chosen).toHaveValue('71');
  });

  test('proposes two together where none does it, and says what stands between them', async () => {
    const program = shelfWith({ ...cutters, amps: 60 });
    program.addCore({ ...dimmerCore, label: 'Dimmer core C' }, [primary]);
    await showPage(program, '#/shelf');
    await chosen.selectOptions('Foam cutters');
    await expect.element(page.getByText('No core does it alone. Two together:')).toBeVisible();
    await page.getByRole('link', { name: 'Join them: Secondaries in series' }).click();
    await expect.element(page.getByRole('heading', { name: 'Several cores for one load' })).toBeVisible();
    expect(location.hash).toMatch(/^#\/plan\/several\/series\/\d+,\d+$/);
  });
});

describe('several cores', () => {
  test('refuses unlike volts in parallel, and names leads that were exchanged by the reading', async () => {
    const program = shelfWith();
    await showPage(program, '#/plan/several');
    const volts = page.getByLabelText('Volts with no load if known');
    await volts.nth(0).fill('24');
    await volts.nth(1).fill('25');
    await expect.element(page.getByText('Do not join these like this')).toBeVisible();
    await volts.nth(1).fill('24');
    await expect.element(page.getByText('Do not join these like this')).not.toBeInTheDocument();
    expect(document.querySelectorAll('[data-coil]')).toHaveLength(4);
    // Third: near ends joined, 12 V on primaries of 230 V, across the far ends: near 0, or twice 24 V × 12 / 230.
    await page.getByLabelText('Read at step 3').fill('2,5');
    await expect
      .element(page.getByText('They oppose: exchange the leads of Canteen oven, and read again.'))
      .toBeVisible();
    await page.getByLabelText('Read at step 3').fill('0.005');
    await expect.element(page.getByText('As expected. Go on.')).toBeVisible();
  });

  test('stands after a reload as it was left, and is begun anew from the record on request', async () => {
    localStorage.clear();
    const program = shelfWith();
    await showPage(program, '#/plan/several');
    const volts = page.getByLabelText('Volts with no load if known');
    await volts.nth(0).fill('24');
    await page.getByRole('group', { name: 'How they are joined' }).getByText('Series').click();
    await page.getByLabelText('Read at step 1').fill('1,2');
    document.querySelector('#app')?.remove();
    await showPage(program, '#/plan/several');
    await expect.element(volts.nth(0)).toHaveValue('24');
    await expect.element(page.getByRole('radio', { name: 'Series' })).toBeChecked();
    await expect.element(page.getByLabelText('Read at step 1')).toHaveValue('1,2');
    await page.getByRole('button', { name: 'Begin anew from the record' }).click();
    await expect.element(volts.nth(0)).toHaveValue('');
    await expect.element(page.getByRole('radio', { name: 'Parallel' })).toBeChecked();
  });

  test('begins with the figures of a kept plan, beside any other core', async () => {
    localStorage.clear();
    const program = shelfWith();
    const { fields } = sheetParts().version;
    const buildId = program.builds[0]?.buildId ?? 0;
    const known = { planId: 7, revisionId: 8, number: 1, replaces: null, reason: null, wallMs: 0, stale: [] };
    program.plans.push({ planId: 7, buildId, versions: [{ ...known, fields }] });
    await showPage(program, '#/plan/several/parallel/plan-7');
    const volts = page.getByLabelText('Volts with no load if known');
    await expect.element(volts.nth(0)).toHaveValue('23');
    await expect.element(page.getByLabelText('Rated amps if known').nth(0)).toHaveValue('9.5');
    // 23 V with no load less 22.1 V at 9.5 A.
    await expect.element(page.getByLabelText('Output resistance if known').nth(0)).toHaveValue('0.09474');
    await expect.element(volts.nth(1)).toHaveValue('');
    const figures = page.getByLabelText('Figures of transformer 1');
    await expect.element(figures).toHaveDisplayValue('as planned: Cutter, 24 V 9.5 A');
    await figures.selectOptions('as measured');
    await expect.element(volts.nth(0)).toHaveValue('');
  });
});
