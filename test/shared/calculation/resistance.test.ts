import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('insulation resistance', () => {
  const given = {
    megohms: 20,
    testVolts: 500,
    minimumMegohms: 5,
    basis: 'own choice',
    oneEndOnCore: 'no',
    celsius: 20,
  };

  it.each([
    [{ megohms: { value: 20, u: 1 } }, 'met'],
    [{ megohms: { value: 2, u: 0.1 } }, 'not-met'],
    [{ megohms: { value: 5.1, u: 0.2 } }, 'unclear'],
    [{ megohms: { value: 20, u: null } }, 'unclear'],
    [{ megohms: 5 }, 'met'],
    [{ megohms: 0.001, oneEndOnCore: 'yes' }, 'not-applicable'],
  ])('judges %j as %s', (extra, verdict) => {
    expect(accept('insulation-resistance', { ...given, ...extra }).results.verdict).toBe(verdict);
  });

  it('names whose figure it is, and claims no approval', () => {
    const answer = accept('insulation-resistance', given);
    expect(answer.results).toMatchObject({ basis: 'own choice', minimumMegohms: 5 });
    expect(cautionCodes(answer)).toEqual(['figure-chosen', 'discharge']);
    const bare = accept('insulation-resistance', {
      megohms: 20,
      testVolts: 500,
      minimumMegohms: 5,
      basis: 'own choice',
    });
    expect(cautionCodes(bare)).toEqual(expect.arrayContaining(['core-joint-not-looked', 'temperature-not-given']));
  });

  it('needs to know whose figure it is', () => {
    expect(refusal('insulation-resistance', { ...given, basis: '' })).toMatchObject({ path: 'basis' });
  });
});

describe('four-wire resistance', () => {
  const given = { amps: 2, volts: 0.021, voltsReversed: -0.019, celsius: 20, metal: 'copper' };

  it('cancels what the contacts add, and tells it', () => {
    const { results } = accept('four-wire-resistance', given);
    expect(results.ohms.value).toBeCloseTo(0.01, 15);
    expect(results.thermoVolts?.value).toBeCloseTo(0.001, 15);
    expect(results.ohmsAt20.value).toBeCloseTo(0.01, 15);
  });

  it('brings the resistance to 20 °C by the metal, or between the two', () => {
    const at20 = (extra: object) => {
      const { metal, ...rest } = { ...given, celsius: 60 };
      expect(metal).toBe('copper');
      return accept('four-wire-resistance', { ...rest, ...extra });
    };
    const copper = at20({ metal: 'copper' }).results.ohmsAt20.value;
    const aluminium = at20({ metal: 'aluminium' }).results.ohmsAt20.value;
    expect(copper).toBeCloseTo((0.01 * 254.5) / 294.5, 12);
    expect(aluminium).toBeCloseTo((0.01 * 245) / 285, 12);
    const neither = at20({});
    const [low, high] = neither.results.ohmsAt20.interval95 ?? [NaN, NaN];
    expect(low).toBeLessThan((copper + aluminium) / 2);
    expect(high).toBeGreaterThan((copper + aluminium) / 2);
    expect(cautionCodes(neither)).toContain('metal-not-given');
  });

  it('warns of one polarity, and of a current that warms', () => {
    const answer = accept('four-wire-resistance', { amps: 2, volts: 0.02, celsius: 20, ratedAmps: 10 });
    expect(answer.results.ohms.value).toBeCloseTo(0.01, 15);
    expect(cautionCodes(answer)).toEqual(
      expect.arrayContaining(['one-polarity', 'warms-itself', 'kick', 'core-magnetised']),
    );
  });

  it('refuses a reversed reading without its sign', () => {
    const error = refusal('four-wire-resistance', { ...given, voltsReversed: 0.019 });
    expect(error).toMatchObject({ code: 'conflict', path: 'voltsReversed' });
  });
});

describe('winding metal', () => {
  // 100 turns of 300 mm: 30 m of 1 mm round wire.
  const given = { celsius: 20, turns: 100, bareDiameterMm: 1, meanTurnMm: 300 };
  const area = Math.PI / 4;

  it.each([
    [(30 / 58 / area) * 1.0, 'copper'],
    [(30 * 0.0283) / area, 'aluminium'],
    [(30 * 0.1) / area, 'unclear'],
    [(30 * 0.01) / area, 'unclear'],
  ])('calls %d Ω %s', (ohms, metal) => {
    expect(accept('winding-metal', { ...given, ohms }).results.metal).toBe(metal);
  });

  it('counts strands in hand and the temperature', () => {
    const cold = accept('winding-metal', { ...given, ohms: 0.5 }).results.resistivity.value;
    expect(accept('winding-metal', { ...given, ohms: 0.25, strands: 2 }).results.resistivity.value).toBeCloseTo(
      cold,
      12,
    );
    expect(accept('winding-metal', { ...given, ohms: 0.5, celsius: 60 }).results.resistivity.value).toBeLessThan(cold);
  });

  it('is unclear where the doubt reaches across', () => {
    const answer = accept('winding-metal', { ...given, ohms: { value: (30 * 0.0205) / area, u: 0.15 } });
    expect(answer.results.metal).toBe('unclear');
    expect(cautionCodes(answer)).toEqual(['metal-unclear']);
  });
});
