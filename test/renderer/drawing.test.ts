import { describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { coreSizeOf } from '../../src-renderer/drawing/core-size.ts';
import { sectionOf } from '../../src-renderer/drawing/section.ts';
import { layWindow, windingToDraw } from '../../src-renderer/drawing/winding-layout.ts';
import { FakeProgram } from './fake-program.ts';
import {
  bellCore,
  dimmerCore,
  highVoltage,
  ovenCore,
  primary,
  ringCore,
  secondary,
  unknownPrimary,
} from './shelf-fixture.ts';
import { showPage } from './show-page.ts';

const boxesOf = (root: Element, part: string): DOMRect[] =>
  [...root.querySelectorAll(`[data-part="${part}"]`)].map((node) => node.getBoundingClientRect());
const svgOf = (name: RegExp): Element => page.getByRole('img', { name }).element();

describe('the section of a core', () => {
  test('a shell core is two tongues and two windows wide, a window and a tongue high', () => {
    const section = sectionOf(coreSizeOf(dimmerCore));
    expect([section.width, section.height]).toEqual([120, 100]);
    expect(section.windows.map(({ x, y }) => [x, y])).toEqual([
      [20, 20],
      [80, 20],
    ]);
    expect(section.limb).toEqual({ x: 40, y: 20, width: 40, height: 60 });
  });

  test('what nobody measured takes usual proportions and says so', () => {
    const size = coreSizeOf({ label: 'x', shape: 'shell', windowHeight: { value: 60, u: null } });
    expect(size.tongue).toEqual({ mm: 40, isMeasured: false });
    expect(size.windowHeight).toEqual({ mm: 60, isMeasured: true });
    expect(sectionOf(size).isOutlineMeasured).toBe(false);
  });
});

describe('turns in a window', () => {
  const laid = layWindow(
    [
      { id: 1, turns: 371, diameter: 0.8 },
      { id: 2, turns: 41, diameter: 2.5 },
    ],
    20,
    60,
  );

  test('draws every strand in hand', () => {
    const drawn = windingToDraw(3, { ...secondary, strands: 3 });
    expect(drawn).toEqual({ id: 3, turns: 3 * 41, diameter: 2.5 });
    expect(windingToDraw(3, { ...unknownPrimary, strands: 3 }).turns).toBeNull();
  });

  test('lies every turn inside the window, none on another', () => {
    const circles = laid.laid.flatMap((each) =>
      each.kind === 'turns' ? each.centres.map((centre) => ({ ...centre, r: each.radius })) : [],
    );
    expect(circles).toHaveLength(371 + 41);
    expect(circles.every(({ x, y, r }) => x - r >= 0 && x + r <= 20 && y - r >= 0 && y + r <= 60)).toBe(true);
    const touching = circles.flatMap((a, i) =>
      circles.slice(i + 1).filter((b) => Math.hypot(a.x - b.x, a.y - b.y) < a.r + b.r - 1e-9),
    );
    expect(touching).toEqual([]);
  });

  test('draws a block where turns or wire are not known, inside the window', () => {
    const { laid: blocks } = layWindow(
      [
        { id: 1, turns: null, diameter: 0.8 },
        { id: 2, turns: 41, diameter: null },
      ],
      20,
      60,
    );
    expect(blocks.map(({ kind }) => kind)).toEqual(['block', 'block']);
    expect(blocks.every(({ from, to }) => from >= 0 && to <= 20 && to > from)).toBe(true);
  });

  test('says when what is known does not fit', () => {
    const { isOverfull, laid: blocks } = layWindow([{ id: 1, turns: 900, diameter: 2 }], 20, 60);
    expect(isOverfull).toBe(true);
    expect(blocks.every(({ to }) => to <= 20)).toBe(true);
  });
});

describe('the drawing on the page of a core', () => {
  test('measures to scale: tongue, window and outline as their millimetres', async () => {
    const program = new FakeProgram();
    const coreId = program.addCore(dimmerCore, [primary, secondary]);
    await showPage(program, `#/core/${coreId}`);
    await expect.element(page.getByRole('img', { name: /Dimmer core B, section/ })).toBeVisible();
    const svg = svgOf(/Dimmer core B, section/);
    const [outline] = boxesOf(svg, 'outline');
    const [left, right] = boxesOf(svg, 'window');
    if (outline === undefined || left === undefined || right === undefined) throw new Error('The core is drawn.');
    const perMm = outline.width / 120;
    expect(outline.height / perMm).toBeCloseTo(100, 3);
    expect(left.width / perMm).toBeCloseTo(20, 3);
    expect(left.height / perMm).toBeCloseTo(60, 3);
    expect((right.left - left.right) / perMm).toBeCloseTo(40, 3);
    const turns = [...svg.querySelectorAll('[data-turns]')].map((node) => node.getAttribute('data-turns'));
    expect(turns).toEqual(['372', '41', '372', '41']);
    const [coil] = svg.querySelectorAll('[data-turns="41"]');
    const box = coil?.getBoundingClientRect();
    expect(box !== undefined && box.left > left.left && box.right < left.right).toBe(true);
  });

  test('blocks off what is not known and says so', async () => {
    const program = new FakeProgram();
    const coreId = program.addCore({ ...dimmerCore, label: 'Half known' }, [unknownPrimary, highVoltage]);
    await showPage(program, `#/core/${coreId}`);
    await expect.element(page.getByRole('img', { name: /Half known, section/ })).toBeVisible();
    const svg = svgOf(/Half known, section/);
    expect(svg.querySelectorAll('[data-block]')).toHaveLength(4);
    expect(svg.querySelectorAll('[data-turns]')).toHaveLength(0);
    expect(svg.textContent).toContain('not known');
  });
});

describe('the drawings on the shelf', () => {
  test('share one scale', async () => {
    const program = new FakeProgram();
    program.addCore(dimmerCore);
    program.addCore({
      ...dimmerCore,
      label: 'Small one',
      tongue: { value: 20, u: null },
      windowWidth: { value: 10, u: null },
      windowHeight: { value: 30, u: null },
      stack: { value: 26, u: null },
    });
    program.addCore(ringCore);
    program.addCore(bellCore);
    await showPage(program, '#/shelf');
    await expect.element(page.getByRole('img', { name: /Small one/ })).toBeVisible();
    const [large] = boxesOf(svgOf(/Dimmer core B/), 'outline');
    const [small] = boxesOf(svgOf(/Small one/), 'outline');
    const [stack] = boxesOf(svgOf(/Dimmer core B/), 'stack');
    expect((large?.width ?? 0) / (small?.width ?? 1)).toBeCloseTo(2, 4);
    expect((large?.height ?? 0) / (small?.height ?? 1)).toBeCloseTo(2, 4);
    expect((stack?.width ?? 0) / (large?.width ?? 1)).toBeCloseTo(52 / 120, 4);
  });

  test('are dashed where nothing was measured, and the row says what is missing', async () => {
    const program = new FakeProgram();
    program.addCore(ovenCore, [unknownPrimary]);
    await showPage(program, '#/shelf');
    await expect.element(page.getByText('Primary turns: not known')).toBeVisible();
    await expect.element(page.getByText('Tongue and stack: not measured')).toBeVisible();
    await expect.element(page.getByText('for minutes, not hours; by its mass')).toBeVisible();
    const outline = svgOf(/Canteen oven/).querySelector('[data-part="outline"]');
    expect(outline === null ? '' : getComputedStyle(outline).strokeDasharray).not.toBe('none');
  });

  test('are filtered as the person types, accents and case aside', async () => {
    const program = new FakeProgram();
    program.addCore(dimmerCore);
    program.addCore({ ...bellCore, label: 'Café bell' });
    await showPage(program, '#/shelf');
    await page.getByRole('searchbox').fill('cafe');
    await expect.element(page.getByText('Dimmer core B')).not.toBeInTheDocument();
    await expect.element(page.getByText('Café bell')).toBeVisible();
    await page.getByRole('searchbox').fill('nothing such');
    await expect.element(page.getByText(/Nothing on the shelf has/)).toBeVisible();
  });

  test('an empty shelf says what to do first', async () => {
    await showPage(new FakeProgram(), '#/shelf');
    await expect.element(page.getByRole('heading', { name: 'The shelf is empty.' })).toBeVisible();
    await page.getByRole('link', { name: 'Add the first core' }).click();
    await expect.poll(() => location.hash).toBe('#/core/new');
  });
});
