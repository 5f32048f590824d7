import { beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import type { WindingFields } from '../../src-shared/record/build.ts';
import { done } from '../../src-shared/contract/failure.ts';
import type { Result, Run } from '../../src-shared/record/run.ts';
import type { Session } from '../../src-shared/record/session.ts';
import { FakeProgram, fakeWallMs } from './fake-program.ts';
import { dimmerCore, highVoltage, ovenCore, primary, ringCore, unknownPrimary } from './shelf-fixture.ts';
import { showPage } from './show-page.ts';

const box = (name: RegExp | string) => page.getByRole('textbox', { name });
const choices = page.getByRole('table').first();
const drawing = page.getByRole('img', { name: /One window to scale/ });

beforeEach(() => localStorage.clear());

/** A shelf with the dimmer core, its primary known, and the plan for it open with an output typed. */
async function planning(volts = '24', amps = '10'): Promise<FakeProgram> {
  const program = new FakeProgram();
  program.addCore(dimmerCore, [primary]);
  await showPage(program, '#/plan');
  await box('Load volts').fill(volts);
  await box('Load amps').fill(amps);
  return program;
}

const rectOf = (part: string): DOMRect => {
  const node = drawing.element().querySelector(`[data-part="${part}"]`);
  if (node === null) throw new Error(`No ${part} is drawn.`);
  return node.getBoundingClientRect();
};

/** Room that the page takes for the primary of the fixture: its layers, as `window-fit` lays them. */
function roomBesidePrimary(): number {
  const fit = calculate('window-fit', {
    windowWidthMm: 20,
    windowHeightMm: 60,
    baseMm: 1,
    marginMm: 2,
    interlayerMm: 0.1,
    turns: 372,
    overallDiameterMm: 0.884,
  });
  if (!fit.ok) throw new Error(fit.error.message);
  return Number(fit.results.buildHeight.value.toFixed(1));
}

describe('the plan of a secondary', () => {
  test('begins with what the record knows and says what it waits for', async () => {
    const program = new FakeProgram();
    program.addCore(dimmerCore, [primary]);
    await showPage(program, '#/plan');
    await expect.element(page.getByText(/Say what the output should do/)).toBeVisible();
    await expect.element(box('Primary volts')).toHaveValue('230');
    const inner = roomBesidePrimary();
    await expect.element(box('Underneath')).toHaveValue(String(inner));
    await expect.element(box('Free width')).toHaveValue(String(Number((20 - inner).toFixed(2))));
    await expect.element(box('Free height')).toHaveValue('60');
  });

  test('draws the window turn by turn to scale, as window-fit lays it', async () => {
    await planning();
    await expect.element(drawing).toBeVisible();
    const inner = roomBesidePrimary();
    const window = rectOf('window');
    const perMm = window.height / 60;
    expect(window.width / perMm).toBeCloseTo(20, 3);
    expect(rectOf('under').width / perMm).toBeCloseTo(inner, 3);
    const label = drawing.element().getAttribute('aria-label') ?? '';
    const [, turns, strands = '1', size] = /with (\d+) turns of (?:(\d+) × )?([\d.]+) mm/.exec(label) ?? [];
    const wire = calculate('wire', { diameterMm: Number(size), film: 'iec-grade-2' });
    if (!wire.ok) throw new Error(wire.error.message);
    const overall = wire.results.overallDiameter?.value ?? Number.NaN;
    const room = { windowWidthMm: 20 - inner, windowHeightMm: 60, clearanceMm: 1, baseMm: 1, marginMm: 2 };
    const deep = Math.max(...[1, 2, 3, 4].filter((each) => Number(strands) % each === 0 && hasDepth(each, overall)));
    const fit = calculate('window-fit', {
      ...room,
      interlayerMm: 0.1,
      spacing: 1.05,
      turns: Number(turns),
      overallDiameterMm: overall,
      strands: Number(strands),
      strandsDeep: deep,
    });
    if (!fit.ok) throw new Error(fit.error.message);
    const { placed, layers, turnsPerLayer, spare } = fit.results;
    const drawn = [...drawing.element().querySelectorAll('[data-layer]')];
    expect(drawn).toHaveLength(layers);
    expect(rectOf('left').width / perMm).toBeCloseTo(spare.width.value, 3);
    const perLayer = turnsPerLayer * Number(strands);
    drawn.forEach((path, layer) => {
      const own = placed.slice(2 * layer * perLayer, 2 * Math.min((layer + 1) * perLayer, placed.length / 2));
      const [xs, ys] = [own.filter((_, at) => at % 2 === 0), own.filter((_, at) => at % 2 === 1)];
      expect(path.getAttribute('data-strands')).toBe(String(xs.length));
      const box = path.getBoundingClientRect();
      const [x, y] = [(box.left - window.left) / perMm, (box.top - window.top) / perMm];
      expect(x).toBeCloseTo(inner + Math.min(...xs) - overall / 2, 1);
      expect(y).toBeCloseTo(Math.min(...ys) - overall / 2, 1);
      expect(box.width / perMm).toBeCloseTo(Math.max(...xs) - Math.min(...xs) + overall, 1);
      expect(box.height / perMm).toBeCloseTo(Math.max(...ys) - Math.min(...ys) + overall, 1);
    });
  });

  test('ranks ways to wind it with a reason each, and shows the one that the arrows reach', async () => {
    await planning();
    await expect.element(choices).toBeVisible();
    const rows = choices.element().querySelectorAll('tbody');
    expect(rows.length).toBeGreaterThan(4);
    for (const row of rows) expect(row.textContent).toMatch(/Loses [\d.]+ W/);
    const [first, second] = choices.element().querySelectorAll('input');
    expect(first?.checked).toBe(true);
    first?.focus();
    await userEvent.keyboard('{ArrowDown}');
    const key = (second?.closest('label')?.textContent ?? '').replace(/Choice \d+:/, '').trim();
    await expect.element(page.getByRole('heading', { name: new RegExp(`turns of ${key}$`) })).toBeVisible();
    await expect.element(page.getByRole('img', { name: new RegExp(`turns of ${key}$`) })).toBeVisible();
  });

  test('follows every key: more amps, more metal or nothing', async () => {
    await planning('24', '4');
    const draws = () => /The load draws\s+([\d.]+)\s+A/.exec(document.body.textContent)?.[1];
    await expect.poll(draws).toBe('0.42');
    await box('Load amps').fill('8');
    await expect.poll(draws).toMatch(/^0\.8/);
    await box('Load amps').fill('60');
    await expect.element(page.getByRole('heading', { name: 'Nothing fits' })).toBeVisible();
    await expect.element(page.getByText(/current density would be [\d.]+ A\/mm²/)).toBeVisible();
  });

  test('plans no output over 50 V until the person says for this build that it is meant', async () => {
    await planning('60', '4');
    await expect.element(page.getByRole('heading', { name: 'Not planned' })).toBeVisible();
    await page.getByRole('checkbox', { name: 'An output over 50 V is meant for this build' }).click();
    await expect.element(choices).toBeVisible();
    await expect.element(page.getByText(/Local rules and a licensed person decide/).first()).toBeVisible();
  });

  test('refuses a flux above its ceiling, and adds the turns that keep it on request', async () => {
    await planning();
    await box('Primary volts').fill('270');
    const refused = page.getByText(/above the ceiling of 1.6 T: it wants \d+ primary turns/).last();
    await expect.element(refused).toBeVisible();
    // V = 4.44288 f N A B with net iron of 40 × 52 × 0.95 mm² and 371.6 turns there (IEC 60076-1's mean-volts relation).
    const wanted = (270 * 1e6) / (4.44288 * 50 * 40 * 52 * 0.95 * 1.6);
    const more = Math.ceil(wanted - 371.6);
    await page.getByRole('button', { name: `Add ${more} turns to the primary` }).click();
    await expect.element(box('Or typed')).toHaveValue(String(more));
    await expect.element(page.getByRole('row', { name: `Primary turns 371.6 + ${more}` })).toBeVisible();
    await expect.element(page.getByRole('row', { name: /^Flux, peak 1\.[56]\d* ± [\d.]+ T/ })).toBeVisible();
    await expect.poll(() => document.activeElement?.getAttribute('name')).toBe('plan-choice');
    await page.getByRole('button', { name: /^Undo/ }).click();
    await expect.element(refused).toBeVisible();
  });

  test('takes the room of the record again when the turns of the primary become known, but not over the person’s own', async () => {
    const program = new FakeProgram();
    program.addCore(dimmerCore, [{ ...primary, turns: { kind: 'unknown' } }]);
    const nowHas = (turns: WindingFields['turns']) => {
      const [build] = program.builds;
      if (build === undefined) throw new Error('The core has a build.');
      const windings = build.windings.map((each) => ({ ...each, fields: { ...each.fields, turns } }));
      program.builds[0] = { ...build, windings };
      program.push({ kind: 'changed', what: 'build', id: build.buildId });
    };
    await showPage(program, '#/plan');
    await expect.element(box('Underneath')).toHaveValue('');
    await expect.element(page.getByText(/Its turns are not on record, so nothing was taken off/)).toBeVisible();
    await expect.element(page.getByRole('link', { name: 'Find the turns' })).toBeVisible();
    nowHas(primary.turns);
    const inner = String(roomBesidePrimary());
    await expect.element(box('Underneath')).toHaveValue(inner);
    await box('Underneath').fill('3');
    nowHas({ kind: 'counted', turns: 300 });
    await expect.element(page.getByText(/By the record: [\d.]+ mm underneath/)).toBeVisible();
    await expect.element(box('Underneath')).toHaveValue('3');
    await page.getByRole('button', { name: 'Take that' }).click();
    await expect.element(page.getByText(/By the record/)).not.toBeInTheDocument();
  });

  test('says that nothing was taken off the window for what stays, until the person measures the room, and keeps that', async () => {
    const { bareDiameter: _, ...wireless } = primary;
    const program = new FakeProgram();
    program.addCore(dimmerCore, [wireless, highVoltage]);
    await showPage(program, '#/plan');
    await box('Load volts').fill('24');
    await box('Load amps').fill('4');
    const caution = page.getByText(/Nothing was taken off the window for “Primary” and “High-voltage winding”/);
    await expect.element(caution).toBeVisible();
    await expect.element(box('Underneath')).toHaveValue('');
    await page.getByRole('button', { name: 'Keep this plan' }).click();
    await page.getByRole('button', { name: /Keep as version/ }).click();
    await expect
      .poll(() => program.plans[0]?.versions[0]?.fields.window.notTakenOff)
      .toEqual(['Primary', 'High-voltage winding']);
    await page.getByRole('checkbox', { name: /^High-voltage winding/ }).click();
    await expect.element(page.getByText(/Nothing was taken off the window for “Primary”$/)).toBeVisible();
    await box('Underneath').fill('9');
    await box('Free width').fill('11');
    await expect.element(page.getByText(/Nothing was taken off the window/)).not.toBeInTheDocument();
    await expect.element(page.getByText(/Room that the primary takes/)).not.toBeInTheDocument();
    await expect.element(page.getByText(/By the record: not known underneath/)).toBeVisible();
    await page.getByRole('button', { name: 'Take that' }).click();
    await expect.element(box('Underneath')).toHaveValue('');
    await expect.element(page.getByText(/Nothing was taken off the window for “Primary”$/)).toBeVisible();
  });

  test('makes no plan of boxes that cannot be read, and calls a loss what it is the loss of', async () => {
    const { ohms: _, ohmsCelsius: __, ...unmeasured } = primary;
    const program = new FakeProgram();
    program.addCore(dimmerCore, [unmeasured]);
    await showPage(program, '#/plan');
    await box('Load volts').fill('24');
    await box('Load amps').fill('4');
    await expect
      .element(page.getByRole('row', { name: /^Loss in this winding\s*the primary’s is not known/ }))
      .toBeVisible();
    await box('Interlayer').fill('thin');
    await expect.element(page.getByText(/A box holds what cannot be read/)).toBeVisible();
    await box('Interlayer').fill('0,1');
    await expect.element(choices).toBeVisible();
    await page.getByText('Power factor, taps').click();
    await box('Power factor').fill('most');
    await expect.element(page.getByText(/A box holds what cannot be read/)).toBeVisible();
  });

  test('says what is missing to tell how warm it will run, and tells it by a heat run and the watts of the same build', async () => {
    const program = new FakeProgram();
    const coreId = program.addCore(dimmerCore, [primary]);
    const [build] = program.builds;
    const core = program.cores.get(coreId)?.at(-1);
    if (build === undefined || core === undefined) throw new Error('The shelf is empty.');
    const { buildId } = build;
    await showPage(program, '#/plan');
    await box('Load volts').fill('24');
    await box('Load amps').fill('10');
    await expect.element(page.getByText(/Missing: A heat run at no load of this build.*no-load watts/)).toBeVisible();
    const points = [0, 600, 1200, 2400, 3600, 7200].map((seconds) => ({
      seconds,
      celsius: { value: 22 - 31 * Math.expm1(-seconds / 2400), u: 0.2 },
    }));
    const kept = (resultId: number, calculation: 'heat-run' | 'no-load', input: object): Result => {
      const output: unknown = JSON.parse(JSON.stringify(calculate(calculation, input)));
      return { resultId, buildId, runId: 7, calculation, version: 1, wallMs: fakeWallMs, input, output };
    };
    const results = [
      kept(5, 'no-load', { volts: 230, amps: { value: 0.4, u: 0.01 }, watts: { value: 14, u: 0.3 } }),
      kept(6, 'heat-run', { points, ambientCelsius: 22 }),
    ];
    const channel = { channel: 'core-temperature', unit: '°C', meterId: 1, meterRevisionId: 1, lockedRange: null };
    const run: Run = {
      ...{ runId: 7, sessionId: 3, buildId, procedure: 'heat-run', channels: [channel], startedWallMs: fakeWallMs },
      ...{ startedMonoMs: 0, endedWallMs: fakeWallMs, ending: 'ended', practice: false },
    };
    const supply = { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes' } as const;
    const fields = { buildId, supply, fedWindingId: null, ambientCelsius: 22, who: 'Rowan' };
    const session: Session = {
      ...{ sessionId: 3, openedWallMs: fakeWallMs, endedWallMs: fakeWallMs, practice: false, fields },
    };
    program.instead['core.list'] = () => done([{ core, builds: program.builds, results }]);
    program.instead['core.get'] = () => done({ core, builds: program.builds, results, runs: [run], history: [core] });
    program.instead['session.list'] = () => done([session]);
    for (const what of ['core', 'session'] as const) program.push({ kind: 'changed', what, id: coreId });
    await expect
      .element(page.getByRole('row', { name: /^Core over the room, no load 31\.\d* ± [\d.]+ K/ }))
      .toBeVisible();
    await expect.element(page.getByRole('row', { name: /^The same, loaded/ })).toBeVisible();
    const rowOf = (name: string) =>
      Number(/([\d.]+) ±/.exec(page.getByRole('row', { name: new RegExp(`^${name}`) }).element().textContent)?.[1]);
    // Between the power 0.8 of the watts and their proportion.
    const [loaded, watts] = [rowOf('The same, loaded'), rowOf('What heats it, loaded')];
    expect(loaded).toBeGreaterThan(31 * (watts / 14) ** 0.8);
    expect(loaded).toBeLessThan(31 * (watts / 14));
    await page.getByRole('button', { name: 'Keep this plan' }).click();
    await page.getByRole('button', { name: /Keep as version/ }).click();
    await expect
      .poll(() => program.plans[0]?.versions[0]?.fields.heat?.loaded?.value.toFixed(1))
      .toBe(loaded.toFixed(1));
  });

  test('tells what on and off again and again come to, and no pause shorter than it must be', async () => {
    await planning('24', '4');
    await page.getByText('Time it may stay on').click();
    for (const [name, text] of Object.entries({
      'Rise if left on for ever if known': '120',
      'Time constant': '45',
      'Rise allowed': '60',
      'On if known': '5',
      'Off if known': '10',
    })) {
      await box(name).fill(text);
    }
    // 120 (1 − a) / (1 − a b), a = e^(−5/45), b = e^(−10/45); 45 min × ln(60 a / (60 − 120 (1 − a))) = 5.6 min.
    await expect.element(page.getByText(/it peaks\s+44\.5 K\s+over the room/)).toBeVisible();
    await expect.element(page.getByText(/It wants\s+6 min\s+off in between/)).toBeVisible();
    await box('On if known').fill('40');
    await expect.element(page.getByText(/No pause is long enough for such a time on/)).toBeVisible();
  });

  test('puts a refusal at its box and keeps what was typed', async () => {
    await planning('24', 'ten');
    await expect.element(box('Load amps')).toHaveAttribute('aria-invalid', 'true');
    await expect.element(box('Load amps')).toHaveValue('ten');
    await box('Load amps').fill('10,5');
    await expect.element(choices).toBeVisible();
  });

  test('speaks inches and gauges where the person does, with the same plan', async () => {
    const program = new FakeProgram();
    program.settings = { ...program.settings, units: 'us', mainsVolts: 230, mainsHertz: 50 };
    program.addCore(dimmerCore, [primary]);
    await showPage(program, '#/plan');
    await box('Load volts').fill('24');
    await box('Load amps').fill('10');
    await expect.element(choices).toBeVisible();
    const said = document.body.textContent;
    expect(said).toContain('A/in²');
    expect(said).toMatch(/AWG \d/);
    expect(said.match(/.{20}(?:\d mm\b|A\/mm²).{20}/g)).toBeNull();
    await expect.element(box('Free height')).toHaveValue('2.362');
  });

  test('keeps the form of a build while the person is elsewhere', async () => {
    await planning('18', '6');
    await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Shelf' }).click();
    await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Plan' }).click();
    await expect.element(box('Load volts')).toHaveValue('18');
    await expect.element(choices).toBeVisible();
  });

  test('says what is missing, and where it is put right', async () => {
    const program = new FakeProgram();
    program.addCore(dimmerCore, [unknownPrimary, highVoltage]);
    await showPage(program, '#/plan');
    await expect.element(page.getByText(/turns of the primary are not known/)).toBeVisible();
    await expect
      .element(page.getByRole('link', { name: 'Primary turns' }))
      .toHaveAttribute('href', expect.stringMatching(/#\/bench\/build-\d+/));
    await expect.element(page.getByText(/High-voltage winding: not taken off the free room/)).toBeVisible();
  });

  test('plans no layers of a ring, and says what its turns tell', async () => {
    const program = new FakeProgram();
    program.addCore(ringCore, [primary]);
    await showPage(program, '#/plan');
    await expect.element(page.getByText(/layers of a ring are not planned here/)).toBeVisible();
    await box('Load volts').fill('24');
    await box('Load amps').fill('10');
    // 230 V on 371.6 turns: 0.6189 V a turn, so 24 V take 38.8 turns; 10 A at 5 A/mm² take 2 mm².
    await expect.element(page.getByRole('row', { name: /^Volts a turn 0\.6189 ± / })).toBeVisible();
    await expect.element(page.getByRole('row', { name: /turns for its volts with no load.* 39$/ })).toBeVisible();
    await expect.element(page.getByRole('row', { name: /wire, at least 2 mm²$/ })).toBeVisible();
  });

  test('takes the build whose turns are known when none was asked for', async () => {
    const program = new FakeProgram();
    program.addCore(ovenCore, [unknownPrimary]);
    program.addCore(dimmerCore, [primary]);
    await showPage(program, '#/plan');
    await expect
      .element(page.getByRole('combobox', { name: 'Core and build' }))
      .toHaveDisplayValue(/Dimmer core B · build 1/);
  });
});

/** Whether the drawing shows this many strands of one turn above each other. */
function hasDepth(deep: number, overall: number): boolean {
  const [first] = drawing.element().querySelectorAll('[data-layer]');
  const perMm = rectOf('window').height / 60;
  return first !== undefined && first.getBoundingClientRect().width / perMm > (deep - 0.5) * overall;
}
