import { expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { done } from '../../src-shared/contract/failure.ts';
import { cutterPlan } from '../main/store/plan-fixture.ts';
import { FakeProgram } from './fake-program.ts';
import { dimmerCore, primary, secondary } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const button = (name: string | RegExp) => page.getByRole('button', { name });

test('makes the next build with turns added to a winding and another taken off, and refuses what cannot be', async () => {
  const program = new FakeProgram();
  const coreId = program.addCore(dimmerCore, [primary, secondary]);
  await showPage(program, `#/core/${coreId}`);
  await page.getByRole('link', { name: 'Next build' }).click();
  const added = page.getByLabelText(/Turns added, or taken off/).first();
  await added.fill('12,3');
  await page.getByLabelText(secondary.label, { exact: true }).click();
  await button('Begin build 2').click();
  await expect.element(page.getByText(/Say what was changed/)).toBeVisible();
  await expect.element(page.getByText(/Whole or half turns/)).toBeVisible();
  expect(inputsOf(program, 'build.add')).toEqual([]);
  await page.getByLabelText('What was changed').fill('12 primary turns added, secondary off');
  await added.fill('12');
  await page.getByLabelText(/Varnish or resin/).fill('air-drying, brushed on');
  await page.getByLabelText(/Cured on/).fill('25 November');
  await button('Begin build 2').click();
  await expect.element(page.getByText(/A date as year, month, day/)).toBeVisible();
  await page.getByLabelText(/Cured on/).fill('2026-11-25');
  await button('Begin build 2').click();
  await expect.poll(() => inputsOf(program, 'build.add').length).toBe(1);
  expect(inputsOf(program, 'build.add')[0]).toMatchObject({
    fields: {
      title: '12 primary turns added, secondary off',
      varnish: 'air-drying, brushed on',
      curedOn: '2026-11-25',
    },
    windings: [{ label: primary.label }],
  });
  await expect.element(page.getByText(/air-drying, brushed on · cured on 2026-11-25/)).toBeVisible();
  await expect.element(page.getByText('12 more turns on “Primary”, “Secondary” taken off')).toBeVisible();
});

/** A plan for the first build of a core, as the program tells of it. */
function plannedCore(program: FakeProgram) {
  const coreId = program.addCore(dimmerCore, [primary, secondary]);
  const build = program.builds[0];
  if (build === undefined) throw new Error('The build was just added.');
  const rests = { coreRevisionId: 1, windingRevisionIds: [], resultIds: [] };
  program.plans.push({
    planId: 5,
    buildId: build.buildId,
    versions: [
      {
        planId: 5,
        revisionId: 61,
        number: 1,
        replaces: null,
        reason: null,
        wallMs: build.wallMs,
        fields: cutterPlan(rests, { addedTurns: 14 }),
        stale: [],
      },
    ],
  });
  program.instead['tally.get'] = () =>
    done([
      { output: 'a', turns: 21, wallMs: 0 },
      { output: 'primary', turns: 15, wallMs: 0 },
    ]);
  return coreId;
}

test('begins with the plan and its count, marks what was wound otherwise, and remembers the version', async () => {
  const program = new FakeProgram();
  const coreId = plannedCore(program);
  await showPage(program, `#/core/${coreId}`);
  const strip = page.getByRole('navigation', { name: 'Builds, in order' });
  await expect.element(strip.getByText('+14 primary turns, Cutter 22 turns')).toBeVisible();
  await strip.getByRole('link', { name: /^Planned, version 1/ }).click();
  await expect.element(page.getByRole('heading', { name: 'As wound: build 2' })).toBeVisible();
  // The tally stands at 21, and at 15 added to the primary: that is what was wound, and it is said.
  await expect.element(page.getByLabelText('Turns, as counted')).toHaveValue('21');
  await expect.element(page.getByText('Otherwise than planned: 22 turns were planned.')).toBeVisible();
  await page.getByLabelText('Turns, as counted').fill('22');
  await expect.element(page.getByText('As planned.').first()).toBeVisible();
  const added = page.getByLabelText(/Turns added, or taken off/);
  await expect.element(added).toHaveValue('15');
  await expect.element(page.getByText('Planned: 14 turns added.')).toBeVisible();
  await added.fill('13');
  await expect.element(page.getByText('Planned: 14 turns added.')).toBeVisible();
  await page.getByLabelText('Strands in hand').fill('0');
  await button('Begin build 2').click();
  await expect.element(page.getByText('Strands in hand: a whole number from 1 to 100.')).toBeVisible();
  // What was typed is there after a look elsewhere.
  location.hash = '#/shelf';
  await expect.element(page.getByRole('heading', { name: 'Shelf', exact: true })).toBeVisible();
  location.hash = `#/wound/core-${coreId}/plan-61`;
  await expect.element(page.getByLabelText('Strands in hand')).toHaveValue('0');
  // And after a reload.
  document.querySelector('#app')?.remove();
  await showPage(program, `#/wound/core-${coreId}/plan-61`);
  await expect.element(page.getByLabelText('Strands in hand')).toHaveValue('0');
  await expect.element(added).toHaveValue('13');
  await page.getByLabelText('Strands in hand').fill('2');
  await page.getByLabelText(/Joint of the core/).selectOptions('clamped');
  await expect.element(page.getByText(/Planned: the core stays closed/)).toBeVisible();
  await button('Begin build 2').click();
  await expect.poll(() => inputsOf(program, 'build.add').length).toBe(1);
  expect(inputsOf(program, 'build.add')[0]).toMatchObject({
    fields: { title: 'Foam cutter supply', joint: 'clamped', planRevisionId: 61 },
    windings: [
      { label: primary.label, turnsAdded: 13 },
      {
        label: 'Cutter',
        role: 'secondary',
        turns: { kind: 'counted', turns: 22 },
        wire: '1.4 mm',
        strands: 2,
        bareDiameter: { value: 1.4, u: null },
      },
    ],
  });
});

test('forgets nothing of a winding when it is corrected: its wire, its strands, the turns that were added', async () => {
  const program = new FakeProgram();
  const wound = { ...primary, turnsAdded: 12, wire: '0.8 mm', strands: 2 };
  const coreId = program.addCore(dimmerCore, [wound]);
  await showPage(program, `#/core/${coreId}`);
  await expect.element(page.getByText(/2 × 0\.8 mm/).first()).toBeVisible();
  await button('Correct Primary').click();
  await page.getByRole('textbox', { name: /^Note/ }).fill('blue tape');
  await page.getByLabelText('Why it is corrected').fill('looked again');
  await page.getByRole('dialog').getByRole('button').last().click();
  await expect.poll(() => inputsOf(program, 'winding.save').length).toBe(1);
  expect(inputsOf(program, 'winding.save')[0]).toMatchObject({
    fields: { turnsAdded: 12, wire: '0.8 mm', strands: 2, note: 'blue tape' },
  });
});

test('says that a plan of that version is not this core’s', async () => {
  const program = new FakeProgram();
  const coreId = plannedCore(program);
  await showPage(program, `#/wound/core-${coreId}/plan-99`);
  await expect.element(page.getByText(/This core has no plan of that version/)).toBeVisible();
});
