import { describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { failed } from '../../src-shared/contract/failure.ts';
import { FakeProgram } from './fake-program.ts';
import { dimmerCore } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const keepNew = page.getByRole('button', { name: 'Put it on the shelf' });
const field = (name: string) => page.getByLabelText(name, { exact: true });
const textIn = (name: string): string => {
  const node = field(name).element();
  return node instanceof HTMLInputElement ? node.value : '';
};

describe('the form of a core', () => {
  test('takes decimal commas and keeps what was typed in the units of the record', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/core/new');
    await field('Label').fill('Prompt desk core');
    await page.getByLabelText('Tongue width if known').fill('38,1');
    await page.getByLabelText('Tongue width, give or take').fill('0,1');
    await page.getByLabelText('Mass if known').fill('2,5');
    await keepNew.click();
    await expect.poll(() => location.hash).toMatch(/^#\/core\/\d+$/);
    expect(inputsOf(program, 'core.save')).toEqual([
      {
        fields: {
          label: 'Prompt desk core',
          shape: 'shell',
          fromAppliance: false,
          mass: { value: 2.5, u: null },
          massIs: 'as-pulled',
          tongue: { value: 38.1, u: 0.1 },
        },
      },
    ]);
  });

  test('asks in inches and pounds where the person chose them, and converts once', async () => {
    const program = new FakeProgram();
    program.settings = { ...program.settings, units: 'us' };
    await showPage(program, '#/core/new');
    await field('Label').fill('Lamp core');
    await page.getByLabelText('Tongue width if known').fill('1.5');
    await page.getByLabelText('Mass if known').fill('10');
    await keepNew.click();
    await expect.poll(() => inputsOf(program, 'core.save').length).toBe(1);
    expect(inputsOf(program, 'core.save')[0]).toMatchObject({
      fields: { tongue: { value: 38.1 }, mass: { value: 4.5359237 } },
    });
  });

  test('says at each box what would be accepted, keeps the text there, and saves nothing', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/core/new');
    await page.getByLabelText('Tongue width if known').fill('4O');
    await page.getByLabelText('Mass if known').fill('9999');
    await keepNew.click();
    await expect
      .element(page.getByText(/Tongue width must be a number from 1 to 500 mm\. The unit behind it is not known/))
      .toBeVisible();
    await expect.element(page.getByText('Mass must be a number from 0.01 to 500 kg.')).toBeVisible();
    await expect.element(page.getByText('Label must not be empty.')).toBeVisible();
    expect(textIn('Tongue width if known')).toBe('4O');
    expect(textIn('Mass if known')).toBe('9999');
    expect(document.activeElement?.id).toBe('core-label');
    expect(inputsOf(program, 'core.save')).toEqual([]);
  });

  test('puts a refusal of the program at its box and loses nothing', async () => {
    const program = new FakeProgram();
    program.instead['core.save'] = () => failed('bad-input', 'Another core has this label.', { path: 'fields.label' });
    await showPage(program, '#/core/new');
    await field('Label').fill('Dimmer core B');
    await keepNew.click();
    await expect.element(page.getByText('Another core has this label.')).toBeVisible();
    expect(textIn('Label')).toBe('Dimmer core B');
    expect(document.activeElement?.id).toBe('core-label');
  });

  test('keeps what was typed while the connection is lost', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/core/new');
    await field('Label').fill('Dimmer core B');
    program.isReachable = false;
    program.lose();
    await keepNew.click();
    await expect.element(page.getByText(/What you typed is kept here/)).toBeVisible();
    expect(textIn('Label')).toBe('Dimmer core B');
  });

  test('is still half filled after a look elsewhere', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/core/new');
    await field('Label').fill('Half a core');
    location.hash = '#/meters';
    await expect.element(page.getByRole('heading', { name: 'Meters', exact: true })).toBeVisible();
    location.hash = '#/core/new';
    await expect.element(field('Label')).toHaveValue('Half a core');
  });

  test('asks why before it corrects, and shows what was there before', async () => {
    const program = new FakeProgram();
    const coreId = program.addCore(dimmerCore);
    await showPage(program, `#/core/${coreId}/edit`);
    await page.getByLabelText('Tongue width if known').fill('41');
    await page.getByRole('button', { name: 'Keep the correction' }).click();
    await expect.element(page.getByText(/Say in a few words why it is corrected/)).toBeVisible();
    expect(inputsOf(program, 'core.save')).toEqual([]);
    await page.getByLabelText('Why it is corrected').fill('Measured again');
    await page.getByRole('button', { name: 'Keep the correction' }).click();
    await expect.poll(() => location.hash).toBe(`#/core/${coreId}`);
    location.hash = `#/core/${coreId}/edit`;
    await expect.element(page.getByText('Measured again')).toBeVisible();
    await expect.element(page.getByText('40.00 ± 0.10 mm')).toBeVisible();
    await expect.element(page.getByText(/41\.00 ± 0\.10 mm/)).toBeVisible();
  });

  test('warns before a core out of an appliance is touched', async () => {
    await showPage(new FakeProgram(), '#/core/new');
    await page.getByRole('radio', { name: 'Yes' }).click();
    await expect.element(page.getByText(/keeps thousands of volts in its capacitor/)).toBeVisible();
    await expect.element(page.getByText(/Leave the magnetron whole/)).toBeVisible();
  });
});
