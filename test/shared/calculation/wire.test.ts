import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('wire', () => {
  it('takes a gauge by number or by name', () => {
    expect(accept('wire', { awg: 12 }).results.nearestAwg).toBe(12);
    expect(accept('wire', { awg: '2/0' }).results.nearestAwg).toBe('2/0');
    expect(accept('wire', { awg: 0 }).results.bareDiameter.value).toBe(
      accept('wire', { awg: '1/0' }).results.bareDiameter.value,
    );
  });

  it('gives the same wire whichever way its size is told', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 12, noNaN: true }), (diameterMm) => {
        const area = (Math.PI / 4) * diameterMm ** 2;
        const mils = (diameterMm / 0.0254) ** 2;
        const by = [{ diameterMm }, { areaMm2: area }, { circularMils: mils }].map(
          (size) => accept('wire', size).results.ohmsPerKm.value,
        );
        expect(by[1]).toBeCloseTo(by[0] ?? NaN, 6);
        expect(by[2]).toBeCloseTo(by[0] ?? NaN, 6);
      }),
      { seed: 7, numRuns: 50 },
    );
  });

  it('halves the resistance and doubles the mass when the area doubles', () => {
    const [one, two] = [1.5, 3].map((areaMm2) => accept('wire', { areaMm2 }).results);
    expect((one?.ohmsPerKm.value ?? 0) / (two?.ohmsPerKm.value ?? 1)).toBeCloseTo(2, 12);
    expect((two?.kgPerKm.value ?? 0) / (one?.kgPerKm.value ?? 1)).toBeCloseTo(2, 12);
  });

  it('warms by the constant of its metal', () => {
    const ohms = (metal: string, celsius: number) =>
      accept('wire', { areaMm2: 1, metal, celsius }).results.ohmsPerKm.value;
    expect(ohms('copper', 75) / ohms('copper', 20)).toBeCloseTo((234.5 + 75) / 254.5, 12);
    expect(ohms('aluminium', 75) / ohms('aluminium', 20)).toBeCloseTo(300 / 245, 12);
  });

  it('carries the doubt of a measured diameter twofold into resistance', () => {
    const { ohmsPerKm } = accept('wire', { diameterMm: { value: 2, u: 0.01 } }).results;
    expect((ohmsPerKm.u ?? 0) / ohmsPerKm.value).toBeCloseTo(2 * 0.005, 6);
  });

  it('says what a film table does not tell', () => {
    expect(cautionCodes(accept('wire', { diameterMm: 9, film: 'iec-grade-1' }))).toEqual(['not-in-film-table']);
    expect(cautionCodes(accept('wire', { awg: 12, film: 'nema-single' }))).toEqual(['no-largest-overall']);
    expect(cautionCodes(accept('wire', { diameterMm: 1.4, film: 'iec-grade-2' }))).toEqual(['film-table-unconfirmed']);
    expect(cautionCodes(accept('wire', { diameterMm: 2, film: 'nema-heavy' }))).toEqual(['not-in-film-table']);
  });

  it('prefers the overall diameter that was measured', () => {
    const { results } = accept('wire', { diameterMm: 2, film: 'iec-grade-2', overallDiameterMm: 2.09 });
    expect(results.overallDiameter?.value).toBe(2.09);
  });

  it.each([
    [{}, 'missing-key', 'diameterMm'],
    [{ awg: 12, diameterMm: 2 }, 'conflict', 'diameterMm'],
    [{ awg: '5/0' }, 'not-a-choice', 'awg'],
    [{ awg: 12.5 }, 'not-whole', 'awg'],
    [{ awg: 99 }, 'too-large', 'awg'],
    [{ diameterMm: 0 }, 'zero', 'diameterMm'],
    [{ diameterMm: 2, overallDiameterMm: 1.9 }, 'conflict', 'overallDiameterMm'],
    [{ diameterMm: 2, metal: 'silver' }, 'not-a-choice', 'metal'],
  ])('refuses %j as %s at "%s"', (input, code, path) => {
    expect(refusal('wire', input)).toMatchObject({ code, path });
  });
});
