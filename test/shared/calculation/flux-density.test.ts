import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const core = { volts: 230, hertz: 50, turns: 400, ironAreaMm2: 2000 };
const tesla = (extra: object) => accept('flux-density', { ...core, ...extra }).results.peakFluxDensity;

describe('flux density', () => {
  it('is in proportion to volts and against hertz, turns and area', () => {
    const { value } = tesla({});
    expect(tesla({ volts: 460 }).value).toBeCloseTo(2 * value, 12);
    expect(tesla({ hertz: 60 }).value).toBeCloseTo((value * 50) / 60, 12);
    expect(tesla({ turns: 800 }).value).toBeCloseTo(value / 2, 12);
    expect(tesla({ ironAreaMm2: 4000 }).value).toBeCloseTo(value / 2, 12);
  });

  it('brings the flux density to the target with the turns that it gives', () => {
    const { turnsForTarget } = accept('flux-density', { ...core, targetTesla: 1.2 }).results;
    expect(tesla({ turns: turnsForTarget?.value }).value).toBeCloseTo(1.2, 12);
  });

  it('goes by the average-responding reading where there is one', () => {
    expect(tesla({ voltsAverageResponding: 225 }).value).toBeCloseTo(tesla({ volts: 225 }).value, 12);
    expect(cautionCodes(accept('flux-density', core))).toContain('sine-assumed');
  });

  it('takes off the resistive drop by its power, or the middle of what it may be', () => {
    const drop = { noLoadAmps: 2, primaryOhms: 1 };
    const resistive = accept('flux-density', { ...core, ...drop, noLoadWatts: 460 }).results;
    expect(resistive.voltsPerTurn.value).toBeCloseTo(228 / 400, 9);
    const reactive = accept('flux-density', { ...core, ...drop, noLoadWatts: 0 }).results;
    expect(reactive.voltsPerTurn.value).toBeCloseTo(Math.hypot(230, 2) / 400, 9);
    const between = accept('flux-density', { ...core, ...drop }).results;
    expect(between.voltsPerTurn.value).toBeCloseTo(229 / 400, 9);
    expect(between.voltsPerTurn.u).toBeCloseTo(1 / Math.sqrt(3) / 400, 9);
  });

  it('moves volts in the drop and in the flux together', () => {
    const doubtful = { ...core, volts: { value: 230, u: 1 }, noLoadAmps: 2, noLoadWatts: 230, primaryOhms: 5 };
    // E² = V² - 2 P R + (I R)², so dE/dV = V / E.
    expect(accept('flux-density', doubtful).results.voltsPerTurn.u).toBeCloseTo(
      230 / Math.sqrt(230 ** 2 - 2300 + 100) / 400,
      9,
    );
  });

  it('says how doubtful a stacking factor is that nobody gave', () => {
    const answer = accept('flux-density', { volts: 230, hertz: 50, turns: 400, tongueMm: 40, stackMm: 50 });
    expect(answer.results.ironArea.value).toBeCloseTo(1900, 9);
    expect(answer.results.ironArea.u).toBeCloseTo((2000 * 0.02) / Math.sqrt(3), 6);
    expect(cautionCodes(answer)).toContain('stacking-factor-assumed');
  });

  it.each([
    [300, 'above-long-run'],
    [380, 'above-ceiling'],
    [390, 'above-saturation'],
  ])('warns at %d V', (volts, code) => {
    // Lower turns bring the same core nearer to saturation: 1.5, 1.9 and 2.2 T.
    const turns = code === 'above-saturation' ? 390 : 450;
    expect(cautionCodes(accept('flux-density', { ...core, volts, turns }))).toContain(code);
  });

  it.each([
    [{ ironAreaMm2: undefined }, 'wrong-type', 'ironAreaMm2'],
    [{ tongueMm: 40 }, 'conflict', 'tongueMm'],
    [{ hertz: 0 }, 'zero', 'hertz'],
    [{ noLoadAmps: 1, noLoadWatts: 300, primaryOhms: 1 }, 'conflict', 'noLoadWatts'],
  ])('refuses %j', (extra, code, path) => {
    expect(refusal('flux-density', { ...core, ...extra })).toMatchObject({ code, path });
  });

  it('refuses half a cross-section', () => {
    const input = { volts: 230, hertz: 50, turns: 400, tongueMm: 40 };
    expect(refusal('flux-density', input)).toMatchObject({ code: 'missing-key', path: 'stackMm' });
  });
});
