import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exact, rectangular } from '../../../src-shared/quantity/estimate.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { simulate } from '../../../src-shared/quantity/monte-carlo.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

const free = { windowWidthMm: 20, windowHeightMm: 50, turns: 24 };
const room = { ...free, overallDiameterMm: 2 };
const fit = (more: object = {}) => accept('window-fit', { ...room, ...more });
const points = (placed: readonly number[]) =>
  Array.from({ length: placed.length / 2 }, (_, at) => ({ x: placed[2 * at] ?? NaN, y: placed[2 * at + 1] ?? NaN }));

describe('window-fit', () => {
  it('lays full layers from the limb outwards', () => {
    const { layers, turnsPerLayer, turnsInLastLayer, buildHeight, fits, spare } = fit({ turns: 60 }).results;
    expect([layers, turnsPerLayer, turnsInLastLayer, fits]).toEqual([3, 25, 10, true]);
    expect(buildHeight.value).toBe(6);
    expect(spare.width.value).toBe(14);
  });

  it('counts base, interlayer, clearance and margins', () => {
    const { results } = fit({ turns: 60, baseMm: 1, interlayerMm: 0.5, clearanceMm: 2, marginMm: 3 });
    expect(results.turnsPerLayer).toBe(22);
    expect(results.buildHeight.value).toBe(1 + 3 * 2 + 2 * 0.5);
    expect(results.spare.width.value).toBe(20 - 2 - 8);
    expect(results.placed.slice(0, 4)).toEqual([2, 4, 2, 6]);
  });

  it('takes a window made for the turns to the last hair', () => {
    const { results } = fit({ turns: 10, overallDiameterMm: 0.1, windowWidthMm: 0.1, windowHeightMm: 1 });
    expect(results).toMatchObject({ layers: 1, turnsPerLayer: 10, fits: true });
  });

  it('keeps the strands of a turn together, side by side or one above the other', () => {
    const flat = fit({ strands: 4 }).results;
    expect(flat).toMatchObject({ turnsPerLayer: 6, layers: 4 });
    const square = fit({ strands: 4, strandsDeep: 2 }).results;
    expect(square).toMatchObject({ turnsPerLayer: 12, layers: 2 });
    expect(square.buildHeight.value).toBe(8);
    expect(square.placed).toHaveLength(2 * 24 * 4);
  });

  it('lays strip on its flat side', () => {
    const { results } = accept('window-fit', { ...free, stripWidthMm: 8, stripThicknessMm: 2 });
    expect(results).toMatchObject({ turnsPerLayer: 6, layers: 4, fits: true, widestOverallDiameterMm: null });
    expect(results.buildHeight.value).toBe(8);
    expect(results.fill.value).toBeCloseTo((24 * 16) / 1000, 12);
  });

  it('measures the turns layer by layer', () => {
    const { results } = fit({ turns: 60, tongueMm: 40, stackMm: 60, innerMm: 5 });
    const corner = (2 * Math.PI + 8) / 2;
    const of = (middle: number) => 200 + corner * (5 + middle);
    expect(results.layerByLayer.map(({ turnLengthMm }) => turnLengthMm)).toEqual([of(1), of(3), of(5)]);
    const mean = (25 * of(1) + 25 * of(3) + 10 * of(5)) / 60;
    expect(results.meanTurn?.value).toBeCloseTo(mean, 9);
    expect(results.strandLength?.value).toBeCloseTo((60 * mean) / 1000, 9);
    // A turn round the corners is no shorter than with quarter circles and no longer than with square ones.
    const [low = NaN, high = NaN] = results.meanTurn?.interval95 ?? [];
    expect(low).toBeGreaterThan(200 + 2 * Math.PI * 7.5);
    expect(high).toBeLessThan(200 + 8 * 8);
  });

  it('says what would have to give when it does not fit', () => {
    const { results, cautions } = fit({ turns: 300, overallDiameterMm: 2.5 });
    expect(results.fits).toBe(false);
    expect(results.spare.width.value).toBe(-17.5);
    expect(results.mostTurns).toBe(160);
    expect(fit({ turns: 160, overallDiameterMm: 2.5 }).results.fits).toBe(true);
    expect(cautions.find(({ code }) => code === 'does-not-fit')?.text).toContain('17.5 mm too high');
  });

  it('says so when not even one turn has room along the limb', () => {
    const { results, cautions } = fit({ marginMm: 24.5 });
    expect(results).toMatchObject({ fits: false, layers: 0, turnsPerLayer: 0, placed: [], mostTurns: 0 });
    expect(cautions.map(({ code }) => code)).toContain('no-turn-fits');
  });

  it('cautions above what hands reach, on strands, and on every window', () => {
    expect(cautionCodes(fit({ turns: 200 }))).toEqual(['fill-above-hand', 'every-window']);
    expect(cautionCodes(fit({ strands: 2 }))).toEqual(['strands-in-hand', 'every-window']);
    const doubtful = fit({ turns: 240, windowWidthMm: { value: 20, u: 0.3 } });
    expect(cautionCodes(doubtful)).toContain('fit-doubtful');
  });

  it('places no strands one by one beyond what a drawing shows', () => {
    const many = fit({ turns: 5000, strands: 2, overallDiameterMm: 0.2 });
    expect(many.results.placed).toEqual([]);
    expect(cautionCodes(many)).toContain('not-placed');
  });

  it.each([
    [{ overallDiameterMm: 2, stripWidthMm: 3 }, 'conflict', 'overallDiameterMm'],
    [{ strands: 3, strandsDeep: 2 }, 'conflict', 'strandsDeep'],
    [{ tongueMm: 30 }, 'missing-key', 'stackMm'],
    [{ stackMm: 30 }, 'missing-key', 'tongueMm'],
    [{ turns: 0 }, 'too-small', 'turns'],
    [{ turns: 2.5 }, 'not-whole', 'turns'],
  ])('refuses %j', (more, code, path) => {
    expect(refusal('window-fit', { ...room, ...more })).toMatchObject({ code, path });
  });

  it.each([
    [{}, 'overallDiameterMm'],
    [{ stripWidthMm: 3 }, 'stripThicknessMm'],
    [{ stripThicknessMm: 3 }, 'stripWidthMm'],
  ])('refuses a wire told as %j', (wire, path) => {
    expect(refusal('window-fit', { ...free, ...wire })).toMatchObject({ code: 'missing-key', path });
  });

  it('has the uncertainty that a simulation shows', () => {
    const tree = { base: rectangular(1, 0.2), diameter: exact(2), interlayer: rectangular(0.3, 0.1) };
    const { u } = simulate(
      tree,
      ({ base, diameter, interlayer }) => base + 3 * diameter + 2 * interlayer,
      seededGenerator(1),
      100_000,
    );
    const { results } = fit({
      turns: 60,
      baseMm: { value: 1, u: 0.2 / Math.sqrt(3), shape: 'rectangular' },
      interlayerMm: { value: 0.3, u: 0.1 / Math.sqrt(3), shape: 'rectangular' },
    });
    expect(results.buildHeight.u ?? NaN).toBeCloseTo(u, 2);
  });

  const anyRoom = fc.record({
    windowWidthMm: fc.double({ min: 5, max: 60, noNaN: true }),
    windowHeightMm: fc.double({ min: 10, max: 120, noNaN: true }),
    marginMm: fc.double({ min: 0.001, max: 3, noNaN: true }),
    interlayerMm: fc.double({ min: 0.001, max: 0.5, noNaN: true }),
    overallDiameterMm: fc.double({ min: 0.3, max: 6, noNaN: true }),
    turns: fc.integer({ min: 1, max: 300 }),
    strands: fc.integer({ min: 1, max: 4 }),
  });

  it('places every strand once, inside the window when it fits, and none within another', () => {
    fc.assert(
      fc.property(anyRoom, (given) => {
        const { placed, fits, layers } = accept('window-fit', given).results;
        if (layers === 0) return;
        const laid = points(placed);
        expect(laid).toHaveLength(given.turns * given.strands);
        const r = given.overallDiameterMm / 2;
        for (const { x, y } of laid) {
          expect(y - r).toBeGreaterThanOrEqual(given.marginMm - 1e-6);
          expect(y + r).toBeLessThanOrEqual(given.windowHeightMm - given.marginMm + 1e-6);
          if (fits) expect(x + r).toBeLessThanOrEqual(given.windowWidthMm + 1e-6);
        }
        const cells = new Set(
          laid.map(({ x, y }) => `${Math.round(x / r / 2)}|${(y / r / 2).toFixed(3)}|${x.toFixed(3)}`),
        );
        expect(cells.size).toBe(laid.length);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it('fits the most turns and the widest wire that it names, and no more', () => {
    fc.assert(
      fc.property(anyRoom, (given) => {
        const { mostTurns, widestOverallDiameterMm: widest } = accept('window-fit', given).results;
        const fits = (more: object) => accept('window-fit', { ...given, ...more }).results.fits;
        if (mostTurns > 0) expect(fits({ turns: mostTurns })).toBe(true);
        expect(fits({ turns: mostTurns + 1 })).toBe(false);
        if (widest === null) return;
        expect(fits({ overallDiameterMm: widest })).toBe(true);
        expect(fits({ overallDiameterMm: widest * 1.001 })).toBe(false);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it('gives the same in inches as in millimetres', () => {
    const inch = fit({
      windowWidthMm: 0.75 * 25.4,
      windowHeightMm: 2 * 25.4,
      overallDiameterMm: 0.0808 * 25.4,
    }).results;
    const metric = fit({ windowWidthMm: 19.05, windowHeightMm: 50.8, overallDiameterMm: 2.05232 }).results;
    expect(inch.layers).toBe(metric.layers);
    expect(inch.placed.map((at) => Number(at.toFixed(9)))).toEqual(metric.placed.map((at) => Number(at.toFixed(9))));
  });
});
