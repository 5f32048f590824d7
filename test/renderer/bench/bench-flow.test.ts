import { tick } from 'svelte';
import { describe, expect, test } from 'vitest';
import { page, userEvent, type Locator } from 'vitest/browser';
import { FakeBench } from './fake-bench.ts';
import { showBench } from './show-bench.ts';

const settled = { isSettled: true, seconds: 8, sentence: 'Inside its own error for 8 s.' };
const button = (name: string | RegExp) => page.getByRole('button', { name });

const textOf = (locator: Locator): string => locator.elements()[0]?.textContent ?? '';
const inputOf = (locator: Locator): HTMLInputElement | null => {
  const [node] = locator.elements();
  return node instanceof HTMLInputElement ? node : null;
};
const isChecked = (locator: Locator): boolean => inputOf(locator)?.checked ?? false;
const valueOf = (locator: Locator): string => inputOf(locator)?.value ?? '';

/** The session is open and two meters are bound: the bench asks for the proof. */
async function setUpTwoMeters(bench: FakeBench): Promise<void> {
  await showBench(bench);
  await page.getByLabelText('Core and build').selectOptions('Dimmer core B · build 1, As found');
  await page.getByLabelText('Highest volts it can give').fill('24');
  await button('Open the session').click();
  await page.getByLabelText('Primary volts', { exact: true }).selectOptions('Bench meter');
  await page.getByLabelText('Primary volts: locked range').selectOptions('200 V range');
  await page.getByLabelText('Test-coil volts', { exact: true }).selectOptions('Pocket meter');
  await page.getByLabelText('Test-coil volts: locked range').selectOptions('2 V range');
  await button('Set it up').click();
}

async function confirmAll(): Promise<void> {
  const open = page.getByRole('list', { name: 'Checks', exact: true }).getByRole('checkbox');
  for (let tries = 0; tries < 30; tries++) {
    const next = open.elements().find((box) => box instanceof HTMLInputElement && !box.disabled && !box.checked);
    if (!(next instanceof HTMLInputElement)) return;
    const id = next.getAttribute('aria-describedby');
    next.click();
    await expect.poll(() => document.querySelector<HTMLInputElement>(`[aria-describedby="${id}"]`)?.checked).toBe(true);
  }
}

async function ready(bench: FakeBench): Promise<void> {
  await setUpTwoMeters(bench);
  await page.getByLabelText(/The plug is out and lies/).click();
  await button('The plug is out: go on').click();
  await confirmAll();
  bench.read(0, 'primary-volts', 0.02, 0.01, 1);
  bench.read(1, 'coil-volts', 0.0002, 0.0001, 0);
  await page
    .getByRole('region', { name: 'Checked before power' })
    .getByRole('button', { name: /Ready check/ })
    .click();
}

async function powerOn(): Promise<void> {
  const hold = page.getByRole('button', { name: 'Power on: hold' });
  await expect.element(hold).toBeVisible();
  const node = hold.element();
  if (!(node instanceof HTMLElement)) throw new Error('The hold is a button.');
  node.focus();
  await userEvent.keyboard('{Enter>}');
  await expect.element(page.getByRole('status').filter({ hasText: 'Live' })).toBeVisible();
  await userEvent.keyboard('{/Enter}');
}

describe('a low-voltage test coil, from the session to the turns', () => {
  test('goes from an empty bench to turns on the primary', async () => {
    const bench = new FakeBench();
    await ready(bench);
    await expect.poll(() => bench.program.run?.runId).toBe(41);
    await powerOn();
    bench.read(0, 'primary-volts', 23.7, 0.14, 1, settled);
    bench.read(1, 'coil-volts', 0.9869, 0.0062, 0, settled);
    const primary = page.getByRole('region', { name: 'Primary volts' });
    await expect.poll(() => textOf(primary)).toMatch(/23\.70V/);
    await expect.poll(() => textOf(page.getByRole('region', { name: 'Test-coil volts' }))).toMatch(/0\.9869V/);
    await expect
      .poll(() => textOf(page.getByRole('region', { name: 'Capture' })))
      .toMatch(/Both inside their own error for 8 s\./);
    await page.getByLabelText('Coil turns').fill('10');
    await button(/Keep this pair/).click();
    await expect.poll(() => textOf(page.getByRole('table', { name: 'Kept pairs' }))).toMatch(/10 passes/);
    const result = page.getByRole('region', { name: 'Turns on the primary' });
    await expect.poll(() => textOf(result)).toMatch(/240\.15/);
    await button(/Put 240\.15 .* on the primary/).click();
    await expect.poll(() => textOf(result)).toMatch(/Primary now has these turns\./);
    const applied = bench.program.asked.filter(({ name }) => name === 'result.apply');
    expect(applied).toEqual([{ name: 'result.apply', input: { resultId: 90, windingId: bench.primaryId } }]);
    await userEvent.keyboard('{F8}');
    await expect.poll(() => bench.program.guard.kind).toBe('proving');
  });

  test('shows a reading with the next frame, though its meter says nothing else', async () => {
    const bench = new FakeBench();
    await ready(bench);
    await powerOn();
    bench.read(0, 'primary-volts', 23.7, 0.14, 1, settled);
    const primary = page.getByRole('region', { name: 'Primary volts' });
    await expect.poll(() => textOf(primary)).toMatch(/23\.70V/);
    const runId = bench.program.run?.runId ?? 0;
    const read = { runId, channel: 'primary-volts', unit: 'V', atMs: [900], u: [0.14], text: ['23.84 V'] };
    bench.program.push({ kind: 'readings', columns: [{ ...read, kind: ['number'], value: [23.84] }] });
    const frame = () => new Promise(requestAnimationFrame);
    await frame();
    await frame();
    expect(textOf(primary)).toMatch(/23\.84V/);
  });

  test('keeps a half coil turn from being taken, and the text as typed; Enter keeps the pair when it is put right', async () => {
    const bench = new FakeBench();
    await ready(bench);
    await powerOn();
    bench.read(0, 'primary-volts', 23.7, 0.14, 1, settled);
    bench.read(1, 'coil-volts', 0.9869, 0.0062, 0, settled);
    const turns = page.getByLabelText('Coil turns');
    await turns.fill('10,5');
    await userEvent.keyboard('{Enter}');
    await expect.poll(() => turns.element().getAttribute('aria-invalid')).toBe('true');
    await expect.poll(() => valueOf(turns)).toBe('10,5');
    await expect.element(page.getByText(/must be whole/)).toBeVisible();
    expect(bench.pairs).toEqual([]);
    await turns.fill('10');
    await userEvent.keyboard('{Enter}');
    await expect.element(page.getByText('Pair of 10 kept.')).toBeVisible();
    expect(bench.pairs).toHaveLength(1);
  });

  test('takes a pair back only with a reason, and it stays in the table', async () => {
    const bench = new FakeBench();
    await ready(bench);
    await powerOn();
    bench.read(0, 'primary-volts', 23.7, 0.14, 1, settled);
    bench.read(1, 'coil-volts', 0.9869, 0.0062, 0, settled);
    await page.getByLabelText('Coil turns').fill('10');
    await button(/Keep this pair/).click();
    await button('Take back the pair of 10 passes').click();
    await button('Take it back').click();
    await expect.poll(() => page.getByText(/Say why, in a few words/).elements().length).toBe(1);
    await button('Coil miscounted').click();
    await button('Take it back').click();
    await expect
      .poll(() => textOf(page.getByRole('table', { name: 'Kept pairs' })))
      .toMatch(/taken back: Coil miscounted/);
    expect(bench.pairs[0]?.withdrawn).toBe('Coil miscounted');
  });

  test('shows a refused meter at its channel', async () => {
    const bench = new FakeBench();
    bench.unrated.add(bench.meterIds[1]);
    await setUpTwoMeters(bench);
    const coil = page.getByLabelText('Test-coil volts', { exact: true });
    await expect.poll(() => coil.element().getAttribute('aria-invalid')).toBe('true');
    await expect
      .poll(() => page.getByLabelText('Primary volts', { exact: true }).element().getAttribute('aria-invalid'))
      .toBe('false');
    expect(bench.program.guard.setUp).toBeNull();
  });
});

describe('proof of dead with an unknown winding on the bench', () => {
  async function startProof(bench: FakeBench): Promise<void> {
    await setUpTwoMeters(bench);
    for (const text of [/The plug is out and lies/, /No charged capacitor/, /Meter and leads whole/]) {
      await page.getByLabelText(text).click();
      await expect.poll(() => isChecked(page.getByLabelText(text))).toBe(true);
    }
  }

  test('goes known, circuit, known for a.c. and d.c. with typed readings, decimal comma and all', async () => {
    const bench = new FakeBench({ known: false });
    await startProof(bench);
    await page.getByLabelText('Known d.c. source').fill('30');
    await button('Begin the proof').click();
    const reading = page.getByLabelText('Reading');
    for (const text of ['230', '0,1', '0,0', '0,2', '229', '30', '0', '0', '0', '30,1']) {
      const before = bench.program.guard.proofInProgress?.readings.length ?? 0;
      await reading.fill(text);
      await userEvent.keyboard('{Enter}');
      await expect.poll(() => (bench.program.guard.proofInProgress?.readings.length ?? 10) > before).toBe(true);
    }
    await expect.poll(() => bench.program.guard.kind).toBe('isolated');
    await expect
      .poll(() => textOf(page.getByRole('list', { name: 'Checks', exact: true })))
      .toMatch(/Circuit proved dead by meter/);
  });

  test('says what failed and that nothing is proved when volts are found', async () => {
    const bench = new FakeBench({ known: false });
    await startProof(bench);
    await page.getByLabelText('Known d.c. source').fill('30');
    await button('Begin the proof').click();
    const reading = page.getByLabelText('Reading');
    await reading.fill('230');
    await userEvent.keyboard('{Enter}');
    await expect.element(page.getByText('Step 2 of 10')).toBeVisible();
    await reading.fill('118');
    await userEvent.keyboard('{Enter}');
    await expect.element(page.getByText(/118 V a.c. stands at line to neutral/).first()).toBeVisible();
    expect(bench.program.guard.kind).toBe('unproved');
  });

  test('takes the next key while the reply to the last is under way', async () => {
    const bench = new FakeBench({ known: false });
    await startProof(bench);
    await page.getByRole('radio', { name: 'Two-pole indicator' }).click({ force: true });
    await page.getByLabelText('Indicator', { exact: true }).fill('Two-pole tester');
    await page.getByLabelText(/Rated for/).fill('690');
    await button('Begin the proof').click();
    await expect.element(page.getByText('Step 1 of 5')).toBeVisible();
    for (const key of ['l', 'n']) {
      const { length } = bench.program.guard.proofInProgress?.readings ?? [];
      window.dispatchEvent(new KeyboardEvent('keydown', { key }));
      // The guard's push is drawn before the reply has come.
      for (let turn = 0; turn < 200; turn++) {
        if (bench.program.guard.proofInProgress?.readings.length !== length) break;
        await Promise.resolve();
      }
      await tick();
    }
    await expect.poll(() => bench.program.guard.proofInProgress?.readings.length).toBe(2);
  });

  test('takes a two-pole indicator: lights, nothing, lights', async () => {
    const bench = new FakeBench({ known: false });
    await startProof(bench);
    await page.getByRole('radio', { name: 'Two-pole indicator' }).click({ force: true });
    await page.getByLabelText('Indicator', { exact: true }).fill('Two-pole tester');
    await page.getByLabelText(/Rated for/).fill('690');
    await button('Begin the proof').click();
    for (const [key, step] of [
      ['l', 1],
      ['n', 2],
      ['n', 3],
      ['n', 4],
      ['l', 5],
    ] as const) {
      await expect.element(page.getByText(`Step ${step} of 5`)).toBeVisible();
      await userEvent.keyboard(key);
    }
    await expect.poll(() => bench.program.guard.lastProof?.kind).toBe('indicator');
  });
});
