import * as v from 'valibot';
import { beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import type { WindingFields } from '../../src-shared/record/build.ts';
import { PlanFields } from '../../src-shared/record/plan.ts';
import { done } from '../../src-shared/contract/failure.ts';
import type { Run } from '../../src-shared/record/run.ts';
import { FakeProgram, fakeWallMs } from './fake-program.ts';
import { dimmerCore, primary } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

beforeEach(() => localStorage.clear());

const box = (name: string) => page.getByRole('textbox', { name, exact: true });
const drawing = page.getByRole('img', { name: /One window to scale/ });
const press = (name: string) => page.getByRole('button', { name }).click();

/** The plan page for the dimmer core, with a 24 V output and one of 12 V on top of it. */
async function twoOutputs(program = new FakeProgram(), windings: readonly WindingFields[] = [primary]) {
  program.addCore(dimmerCore, windings);
  await showPage(program, '#/plan');
  await box('Load volts').fill('24');
  await box('Load amps').fill('4');
  await press('Add an output');
  await box('Load volts').fill('12');
  await box('Load amps').fill('1.5');
  await expect.element(page.getByRole('img', { name: /turns of .* and \d+ turns of/ })).toBeVisible();
  return program;
}

/** Keeps the plan and gives it as it was sent. */
async function kept(program: FakeProgram) {
  await press('Keep this plan');
  await page.getByRole('button', { name: /Keep as version/ }).click();
  await expect.element(page.getByRole('dialog')).not.toBeInTheDocument();
  return v.parse(v.object({ fields: PlanFields }), inputsOf(program, 'plan.save').at(-1)).fields;
}

const part = (selector: string): DOMRect => {
  const node = drawing.element().querySelector(selector);
  if (node === null) throw new Error(`No ${selector} is drawn.`);
  return node.getBoundingClientRect();
};

describe('several outputs', () => {
  test('are drawn to scale one on top of the other, each as window-fit lays it, with the room that is left', async () => {
    const program = await twoOutputs();
    const fields = await kept(program);
    const window = part('[data-part="window"]');
    const perMm = window.height / 60;
    const { innerMm, widthMm, leftMm } = fields.window;
    let from = innerMm;
    for (const output of fields.outputs) {
      const { wire, turns, layers, baseMm, marginMm, interlayerMm } = output;
      if (wire.kind !== 'round' && wire.kind !== 'cable') throw new Error('No strip was asked for.');
      const fit = calculate('window-fit', {
        ...{ windowWidthMm: widthMm - from, windowHeightMm: 60, baseMm, marginMm, interlayerMm, spacing: 1.05, turns },
        ...{ overallDiameterMm: wire.overallMm, strands: wire.strands, strandsDeep: wire.strandsDeep },
      });
      if (!fit.ok) throw new Error(fit.error.message);
      const { placed, turnsPerLayer, buildHeight, fits } = fit.results;
      expect(fits).toBe(true);
      expect(layers.map((layer) => layer.turns).reduce((sum, each) => sum + each, 0)).toBe(turns);
      const perLayer = turnsPerLayer * wire.strands;
      layers.forEach(({ fromMm, depthMm }, layer) => {
        const own = placed.slice(2 * layer * perLayer, 2 * Math.min((layer + 1) * perLayer, placed.length / 2));
        const [xs, ys] = [own.filter((_, at) => at % 2 === 0), own.filter((_, at) => at % 2 === 1)];
        const drawn = part(`[data-winding="${output.key}"] [data-layer="${layer}"]`);
        expect((drawn.left - window.left) / perMm).toBeCloseTo(from + Math.min(...xs) - wire.overallMm / 2, 1);
        expect((drawn.left - window.left) / perMm).toBeCloseTo(fromMm, 1);
        expect(drawn.width / perMm).toBeCloseTo(depthMm, 1);
        expect((drawn.top - window.top) / perMm).toBeCloseTo(Math.min(...ys) - wire.overallMm / 2, 1);
      });
      from += buildHeight.value;
    }
    expect(widthMm - fields.window.clearanceMm - from).toBeCloseTo(leftMm, 6);
    expect(part('[data-part="left"]').width / perMm).toBeCloseTo(leftMm, 2);
  });

  test('each count with the current of the others in the primary: fewer volts under load than alone', async () => {
    const program = await twoOutputs();
    const [first] = (await kept(program)).outputs;
    if (first === undefined) throw new Error('Nothing was kept.');
    const ratio = first.turns / 372;
    const { ohms = { value: 0 }, ohmsCelsius = 20 } = primary;
    const hot = (ohms.value * (234.5 + 75)) / (234.5 + ohmsCelsius);
    const others = (12 * 1.5) / 230;
    const { noLoadVolts, loadVolts, ohms: own } = first.predicted;
    // Power factor 1 and no leakage: every drop is along the volts.
    const drop = 4 * own.value + hot * ratio * (4 * ratio + others);
    expect(noLoadVolts.value - loadVolts.value).toBeCloseTo(drop, 1);
    expect(hot * ratio * others).toBeGreaterThan(0.01);
  });

  test('share the room: a third that nothing is left for says so, and the plan is not kept', async () => {
    await twoOutputs();
    await press('Add');
    await box('Load volts').fill('30');
    await box('Load amps').fill('40');
    await expect.element(page.getByRole('heading', { name: 'Nothing fits' })).toBeVisible();
    await press('Keep this plan');
    await expect.element(page.getByText(/Output 1 is not planned yet: finish it, or take it off/)).toBeVisible();
  });

  test('take a tap at its share of the turns, and refuse one beyond their volts', async () => {
    const program = await twoOutputs();
    await page.getByText('Power factor, taps, thickness').click();
    await press('Add a tap');
    await box('Its volts').fill('6');
    const { outputs } = await kept(program);
    const [tap] = outputs[1]?.taps ?? [];
    expect(tap?.turns).toBe(Math.round((outputs[1]?.turns ?? 0) / 2));
    await box('Its volts').fill('13');
    await expect.element(page.getByText('Less than the output’s, and a turn at least.')).toBeVisible();
    await press('Keep this plan');
    await expect.element(page.getByText(/A tap of Output 2 has no volts within/)).toBeVisible();
  });
});

describe('nonsense', () => {
  test('a half-wave rectifier is refused with its reason, a bridge is planned for its alternating current', async () => {
    const program = new FakeProgram();
    program.addCore(dimmerCore, [primary]);
    await showPage(program, '#/plan');
    await box('Load volts').fill('12');
    await box('Load amps').fill('3');
    await page.getByRole('combobox', { name: 'What it feeds' }).selectOptions('Half-wave rectifier');
    await expect.element(page.getByRole('heading', { name: 'Not planned' })).toBeVisible();
    await expect.element(page.getByText(/saturat/).first()).toBeVisible();
    await page.getByRole('combobox', { name: 'What it feeds' }).selectOptions('Bridge and capacitor');
    await expect
      .element(page.getByText(/For 12 V direct at 3 A the winding gives [\d.]+ V and carries 5.4 A/))
      .toBeVisible();
  });

  test('a load beyond the circuit is said with how far', async () => {
    await twoOutputs();
    await box('Breaker if known').fill('0.4');
    await expect.element(page.getByText('More than the circuit gives')).toBeVisible();
    await box('Breaker if known').fill('10');
    await expect.element(page.getByText(/% of what the circuit gives. Count what else/)).toBeVisible();
  });

  test('added turns that do not fit are said with how many do, and are not kept', async () => {
    await twoOutputs();
    await box('Their bare wire if known').fill('4');
    await box('Or typed').fill('60');
    await expect.element(page.getByText(/They do not fit:/)).toBeVisible();
    await box('Or typed').fill('12.3');
    await expect.element(page.getByText('Added turns must be whole or half turns.')).toBeVisible();
  });
});

const pilot: WindingFields = {
  label: 'Pilot lamp',
  role: 'secondary',
  turns: { kind: 'counted', turns: 10 },
  metal: 'copper',
  bareDiameter: { value: 0.5, u: 0.01 },
  oneEndOnCore: 'no',
  onPlug: false,
};

test('other windings that stay are taken off the room, and give it back when they come off', async () => {
  const program = new FakeProgram();
  program.addCore(dimmerCore, [primary, pilot]);
  await showPage(program, '#/plan');
  const width = () => {
    const node = box('Free width').element();
    return node instanceof HTMLInputElement ? Number(node.value) : Number.NaN;
  };
  await expect.element(page.getByRole('checkbox', { name: /Pilot lamp/ })).toBeChecked();
  const before = width();
  await page.getByRole('checkbox', { name: /Pilot lamp/ }).click();
  // One layer of its wire on the usual base.
  expect(width() - before).toBeCloseTo(1.6, 1);
});

test('added turns lower every secondary in proportion, lie under the outputs, and are kept with the plan', async () => {
  const program = await twoOutputs();
  const plain = await kept(program);
  await box('Or typed').fill('30');
  await expect
    .element(page.getByText(/They take \d layers? ?(of \d+)?, [\d.]+ mm thick, over the primary/))
    .toBeVisible();
  await expect.element(drawing).toBeVisible();
  expect(part('[data-winding="primary"]').left).toBeLessThan(part('[data-winding="a"]').left);
  const more = await kept(program);
  expect(more.addedTurns).toBe(30);
  expect(more.outputs[0]?.turns).toBeGreaterThan(plain.outputs[0]?.turns ?? Infinity);
  expect(more.window.innerMm).toBeGreaterThan(plain.window.innerMm);
});

test('the leakage of the short-circuit test kept here is put into its box, and says so', async () => {
  const program = new FakeProgram();
  const coreId = program.addCore(dimmerCore, [primary]);
  const build = program.builds[0];
  const core = program.cores.get(coreId)?.at(-1);
  if (build === undefined || core === undefined) throw new Error('The shelf is empty.');
  const results = [
    {
      ...{
        resultId: 5,
        buildId: build.buildId,
        runId: 7,
        calculation: 'short-circuit',
        version: 1,
        wallMs: fakeWallMs,
      },
      ...{ input: {}, output: { results: { reactance: { value: 3.42, u: 0.1, unit: 'Ω' } } } },
    },
  ];
  const run: Run = {
    ...{ runId: 7, sessionId: 3, buildId: build.buildId, procedure: 'short-circuit', channels: [] },
    ...{ startedWallMs: fakeWallMs, startedMonoMs: 0, endedWallMs: fakeWallMs, ending: 'ended', practice: false },
  };
  const supply = { kind: 'isolated-low-voltage', volts: 12, hertz: 50, earthed: 'floating', rcd: 'no' } as const;
  const fedWindingId = build.windings[0]?.windingId ?? null;
  program.instead['core.list'] = () => done([{ core, builds: [build], results }]);
  program.instead['core.get'] = () => done({ core, builds: [build], results, runs: [run], history: [core] });
  program.instead['session.list'] = () =>
    done([
      {
        ...{ sessionId: 3, openedWallMs: fakeWallMs, endedWallMs: fakeWallMs, practice: false },
        fields: { buildId: build.buildId, supply, fedWindingId, who: 'Test person' },
      },
    ]);
  await showPage(program, '#/plan');
  await page.getByText('Sizes, strands, limits').click();
  await expect.element(page.getByRole('textbox', { name: /Leakage reactance/ })).toHaveValue('3.42');
  await expect.element(page.getByText('The short-circuit test of 25 Nov says 3.42 Ω.')).toBeVisible();
});

test('wire of the person’s own is read line by line, and the plan keeps to it', async () => {
  const program = await twoOutputs();
  await page.getByText('Sizes, strands, limits').click();
  await page.getByRole('radio', { name: 'My wire' }).click();
  await page.getByRole('textbox', { name: 'My wire, one a line' }).fill('1,25 mm\nAWG 16\nfence wire');
  await expect.element(page.getByText(/“fence wire” is no wire that can be read/)).toBeVisible();
  await page.getByRole('textbox', { name: 'My wire, one a line' }).fill('1,25 mm\nAWG 16');
  const { outputs } = await kept(program);
  for (const { wire } of outputs) expect(['1,25 mm', 'AWG 16']).toContain(wire.name);
});

test('the plan is the same in either units, there and back', async () => {
  const program = await twoOutputs();
  const metric = await kept(program);
  const turn = async (units: 'metric' | 'us') => {
    program.settings = { ...program.settings, units };
    program.push({ kind: 'changed', what: 'settings', id: null });
    await expect.element(box('Free height')).toHaveValue(units === 'us' ? '2.362' : '60');
  };
  await page.getByText('Sizes, strands, limits').click();
  await page.getByRole('radio', { name: 'Both' }).click();
  const both = await kept(program);
  await turn('us');
  const us = await kept(program);
  expect({ ...us, asked: both.asked }).toEqual(both);
  expect(us.asked.units).toBe('us');
  await turn('metric');
  await page.getByRole('radio', { name: 'Metric' }).click();
  expect(await kept(program)).toEqual(metric);
});

test('a step is taken back and done again by keys, and none is lost by a reload', async () => {
  const program = await twoOutputs();
  await userEvent.keyboard('{Tab}');
  await expect.element(page.getByRole('button', { name: /^Undo/ })).toBeEnabled();
  await box('Load amps').fill('2.5');
  await userEvent.keyboard('{Control>}z{/Control}');
  await expect.element(box('Load amps')).toHaveValue('1.5');
  await userEvent.keyboard('{Control>}{Shift>}z{/Shift}{/Control}');
  await expect.element(box('Load amps')).toHaveValue('2.5');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.element(box('Load amps')).toHaveValue('1.5');
  document.querySelector('#app')?.remove();
  await showPage(program, '#/plan');
  await expect.element(page.getByRole('button', { name: /Output 2/ })).toBeVisible();
  await page.getByRole('button', { name: /Output 2/ }).click();
  await expect.element(box('Load amps')).toHaveValue('1.5');
});

test('an older version is taken up again, and the next one names it as its plan', async () => {
  const program = await twoOutputs();
  await kept(program);
  await box('Load amps').fill('2');
  await kept(program);
  expect(program.plans.map(({ versions }) => versions.length)).toEqual([2]);
  await press('Kept plans (2)');
  await page.getByRole('button', { name: /Take up again ?: version 1/ }).click();
  await expect.element(box('Load amps')).toHaveValue('1.5');
  await expect.element(page.getByText(/version 2 of 25 Nov; changed since/)).toBeVisible();
  await press('Keep this plan');
  await press('As another plan');
  await expect.poll(() => program.plans.length).toBe(2);
});
