import { describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { done } from '../../../src-shared/contract/failure.ts';
import type { ExportView } from '../../../src-shared/contract/export-view.ts';
import type { FakeProgram } from '../fake-program.ts';
import { inputsOf, showPage } from '../show-page.ts';
import { factsOf, lastMs, runProgram, spikeAtMs } from './run-program.ts';

const slider = () => page.getByRole('slider', { name: 'Cursor of the chart' }).first();
const spoken = async () => {
  await expect.poll(() => slider()).toBeVisible();
  return slider().element().getAttribute('aria-valuetext') ?? '';
};
type View = { fromMs: number; toMs: number; pixels: number };
const views = (program: FakeProgram) => inputsOf(program, 'run.history') as readonly View[];
const lastView = (program: FakeProgram) => views(program).at(-1) ?? { fromMs: NaN, toMs: NaN, pixels: NaN };

/** The drawing is there and its first view was asked for. */
async function shown(program: FakeProgram, address = '#/run/7') {
  await showPage(program, address);
  await expect.element(slider()).toBeVisible();
  await expect.poll(() => document.querySelectorAll('.plot canvas').length).toBeGreaterThan(0);
  await expect.poll(() => views(program).length).toBeGreaterThanOrEqual(2);
  await expect
    .poll(() =>
      page
        .getByRole('button', { name: /^Line volts/ })
        .first()
        .query(),
    )
    .not.toBeNull();
}

/** How much ink of the curves there is in the canvas. */
function inkOf(from: number, to: number): number {
  const canvas = document.querySelector<HTMLCanvasElement>('.plot canvas');
  const data = canvas?.getContext('2d')?.getImageData(from, 0, Math.max(1, to - from), canvas.height).data ?? [];
  let dark = 0;
  for (let at = 3; at < data.length; at += 4) if ((data[at] ?? 0) > 120) dark += 1;
  return dark;
}

describe('the page of a run', () => {
  test('tells conditions, channels, what happened, results with their working, and who measured', async () => {
    await shown(runProgram());
    await expect.poll(() => page.getByRole('heading', { level: 1 }).element().textContent).toMatch('Heat run');
    const conditions = page.getByRole('region', { name: 'Conditions' });
    await expect
      .poll(() => conditions.element().textContent)
      .toMatch(/mains, up to 230 V, 50 Hz, earthed, through an RCD\/GFCI, fuse 3 A/);
    await expect
      .poll(() => page.getByRole('region', { name: 'What happened' }).element().textContent)
      .toMatch(/3:20.*fan off/);
    const result = page.getByRole('region', { name: /^Result:/ });
    await expect.poll(() => result.element().textContent).toMatch(/Where it would end/);
    await result.getByRole('button', { name: 'Working, doubt, sources' }).click();
    await expect.poll(() => result.element().textContent).toMatch(/Theraja/);
    await expect.element(page.getByText(/No approval is claimed/)).toBeVisible();
  });

  test('says practice, trip and interruption in words', async () => {
    const tripped = factsOf(7, {}, { ending: 'tripped', practice: true });
    await shown(runProgram([tripped]));
    await expect.element(page.getByText('Practice. Practice readings. Nothing here has been measured.')).toBeVisible();
    await expect.poll(() => page.getByRole('note').first().element().textContent).toMatch(/Tripped/);
  });

  test('says when there is no such run', async () => {
    await showPage(runProgram(), '#/run/99');
    await expect.poll(() => page.getByRole('alert').element().textContent).toMatch('There is no run 99 in the record.');
  });
});

describe('the chart of a run', () => {
  test('asks for what it shows and not more finely than its pixels', async () => {
    const program = runProgram();
    await shown(program);
    for (const { fromMs, toMs, pixels } of views(program)) {
      expect([fromMs, toMs]).toEqual([-lastMs / 2, 1.5 * lastMs]);
      expect(pixels).toBeLessThanOrEqual(2 * 1280);
    }
  });

  test('is drawn, breaks at the gap and keeps a spike of one reading', async () => {
    await shown(runProgram());
    await expect.poll(() => inkOf(0, 2000)).toBeGreaterThan(2000);
    const canvas = document.querySelector<HTMLCanvasElement>('.plot canvas');
    const ratio = devicePixelRatio;
    const width = (canvas?.width ?? 0) / ratio;
    // The plot area lies between the axis of 62 pixels at the left and 20 pixels at the right.
    const at = (share: number) => Math.round((62 + share * (width - 82)) * ratio);
    const gap = inkOf(at(0.44), at(0.46));
    const line = inkOf(at(0.54), at(0.56));
    const spike = inkOf(at(spikeAtMs / lastMs) - 3, at(spikeAtMs / lastMs) + 3);
    expect(line).toBeGreaterThan(gap);
    expect(spike).toBeGreaterThan(inkOf(at(0.75) - 3, at(0.75) + 3) + 20);
  });

  test('is moved and zoomed by keys that stand beside their words, and told as text', async () => {
    const program = runProgram();
    await shown(program);
    (slider().element() as HTMLElement).focus();
    for (const key of ['+', '-', '0'])
      await expect.poll(() => page.getByText(key, { exact: true }).first()).toBeVisible();
    await userEvent.keyboard('++++');
    await expect.poll(() => lastView(program).toMs - lastView(program).fromMs).toBeLessThan(lastMs);
    const near = lastView(program);
    await userEvent.keyboard('{Shift>}{ArrowRight}{ArrowRight}{ArrowRight}{/Shift}');
    await expect.poll(() => lastView(program).fromMs).toBeGreaterThan(near.fromMs);
    await userEvent.keyboard('0');
    await expect.element(page.getByRole('button', { name: /^Whole/ }).first()).toHaveAttribute('aria-disabled', 'true');
    await userEvent.keyboard('{End}');
    await expect.poll(spoken).toMatch(/^10:00, .*Winding temperature 51\.00 ± 0\.50 °C, sent “51 °C”/);
    await userEvent.keyboard('{PageUp}{ArrowLeft}');
    await expect.poll(spoken).toMatch(/^8:54/);
    await userEvent.keyboard('{Escape}');
    await expect.poll(spoken).toBe('No cursor');
  });

  test('is zoomed by the wheel around the pointer, moved by dragging, cut by Shift and drag, whole by a double click', async () => {
    const program = runProgram();
    await shown(program);
    const node = slider().element() as HTMLElement;
    const { left, top, width, height } = node.getBoundingClientRect();
    const pointer = (type: string, share: number, more: PointerEventInit = {}) =>
      node.dispatchEvent(
        new PointerEvent(type, {
          clientX: left + width * share,
          clientY: top + height / 2,
          button: 0,
          pointerId: 1,
          bubbles: true,
          ...more,
        }),
      );
    node.setPointerCapture = () => undefined;
    const whole = page.getByRole('button', { name: /^Whole/ }).first();
    const wheel = (deltaY: number) =>
      node.dispatchEvent(
        new WheelEvent('wheel', {
          deltaY,
          clientX: left + width * 0.7,
          clientY: top + 50,
          cancelable: true,
          bubbles: true,
        }),
      );
    // Wider than all there is: the wheel is left to the page.
    expect(wheel(240)).toBe(true);
    expect(wheel(-240)).toBe(false);
    wheel(-240);
    wheel(-240);
    await expect.element(whole).toHaveAttribute('aria-disabled', 'false');
    await expect.poll(() => lastView(program).toMs - lastView(program).fromMs).toBeLessThan(lastMs);
    const zoomedIn = lastView(program);
    const middle = (zoomedIn.fromMs + zoomedIn.toMs) / 2;
    expect(middle).toBeGreaterThan(lastMs / 2);
    pointer('pointerdown', 0.2);
    pointer('pointermove', 0.8);
    pointer('pointerup', 0.8);
    await expect.poll(() => (lastView(program).fromMs + lastView(program).toMs) / 2).toBeLessThan(middle);
    node.dispatchEvent(new MouseEvent('dblclick', { bubbles: true }));
    await expect.element(whole).toHaveAttribute('aria-disabled', 'true');
    pointer('pointerdown', 0.5, { shiftKey: true });
    pointer('pointermove', 0.6, { shiftKey: true });
    pointer('pointerup', 0.6, { shiftKey: true });
    await expect.element(whole).toHaveAttribute('aria-disabled', 'false');
  });

  test('hides a curve on demand, and is a table for whoever cannot see it', async () => {
    await shown(runProgram());
    const volts = page.getByRole('button', { name: /^Line volts/ }).first();
    await expect.element(volts).toHaveAttribute('aria-pressed', 'true');
    await page.getByRole('button', { name: 'As a table' }).first().click();
    await expect.element(page.getByRole('cell', { name: '260 V at 7:00' })).toBeVisible();
    await expect.element(page.getByRole('cell', { name: 'limit 60 °C' })).toBeVisible();
    await expect.element(page.getByRole('cell', { name: 'fan off' })).toBeVisible();
    await volts.click();
    await expect.element(volts).toHaveAttribute('aria-pressed', 'false');
    await expect.element(page.getByRole('cell', { name: '260 V at 7:00' })).not.toBeInTheDocument();
  });

  test('lays another run of the same kind over it, by the address', async () => {
    const program = runProgram();
    await shown(program);
    await page.getByRole('checkbox', { name: /^Run 9/ }).click();
    await expect.poll(() => location.hash).toBe('#/run/7/over/9');
    await expect.element(page.getByRole('button', { name: /Line volts, run 9/ })).toBeVisible();
    expect(inputsOf(program, 'run.history')).toContainEqual(expect.objectContaining({ runId: 9 }));
  });

  test('of a run that goes on grows with its readings, and asks again for what it missed', async () => {
    const going = factsOf(7, { lastMs: 0 }, { ending: 'running', startedMonoMs: 100_000, endedWallMs: null });
    const program = runProgram([going]);
    program.run = going.run;
    program.nowMs = 700_000;
    await shown(program);
    const columns = (atMs: number, value: number) => ({
      runId: 7,
      channel: 'line-volts',
      atMs: [atMs],
      kind: ['number' as const],
      value: [value],
      u: [1],
      unit: 'V',
      text: ['x'],
    });
    program.push({ kind: 'readings', columns: [columns(600_500, 231.5)] });
    (slider().element() as HTMLElement).focus();
    await userEvent.keyboard('{End}');
    await expect.poll(spoken).toMatch(/^10:0\d/);
    const asked = views(program).length;
    program.push({ kind: 'readings-missed', readings: 12 });
    await expect.poll(() => views(program).length).toBeGreaterThan(asked);
  });
});

describe('taking a run away', () => {
  const view = (more: Partial<ExportView>): ExportView => ({
    exportId: 4,
    what: 'readings-csv',
    state: 'working',
    share: 0,
    name: null,
    bytes: null,
    message: null,
    ...more,
  });

  test('shows how far it is, can be cancelled, and says so', async () => {
    const program = runProgram();
    program.instead['export.start'] = () => done(view({}));
    program.instead['export.cancel'] = () => {
      program.push({ kind: 'export', export: view({ state: 'cancelled' }) });
      return done({});
    };
    await shown(program);
    await page.getByRole('button', { name: 'Readings as CSV' }).click();
    program.push({ kind: 'export', export: view({ share: 0.42 }) });
    await expect.element(page.getByRole('progressbar')).toHaveAttribute('value', '0.42');
    await page.getByRole('button', { name: 'Cancel' }).click();
    await expect.element(page.getByText('Cancelled. Nothing of it is kept.')).toBeVisible();
    await expect.element(page.getByRole('progressbar')).not.toBeInTheDocument();
  });

  test('fetches it when it is ready, also when that was told before the answer, and says where it is', async () => {
    const program = runProgram();
    program.instead['export.start'] = () => {
      program.push({ kind: 'export', export: view({ state: 'ready', share: 1, name: 'a.csv', bytes: 3 }) });
      return done(view({}));
    };
    program.instead['export.fetch'] = () => done({ kind: 'saved', file: '/home/bench/a.csv' });
    await shown(program);
    await page.getByRole('button', { name: 'Readings as CSV' }).click();
    await expect.element(page.getByText('Saved as /home/bench/a.csv.')).toBeVisible();
    expect(inputsOf(program, 'export.fetch')).toEqual([{ exportId: 4 }]);
  });

  test('says why it failed', async () => {
    const program = runProgram();
    program.instead['export.start'] = () => done(view({ what: 'run-sheet' }));
    await shown(program);
    await page.getByRole('button', { name: 'Run sheet' }).click();
    program.push({ kind: 'export', export: view({ state: 'failed', message: 'The disk is full.' }) });
    await expect.poll(() => page.getByRole('alert').element().textContent).toMatch('The disk is full.');
  });
});
