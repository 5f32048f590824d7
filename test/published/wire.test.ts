import { describe, expect, it } from 'vitest';
import { conductors, resistanceFactor } from '../../src-shared/calculation/conductor.ts';
import { filmedWire } from '../../src-shared/calculation/film.ts';
import { iecConductorTolerance, iecFilmRow } from '../../src-shared/calculation/film-iec.ts';
import { nemaFilm, nemaFilmRow } from '../../src-shared/calculation/film-nema.ts';
import { awgDiameterMm, awgOfDiameterMm } from '../../src-shared/quantity/awg.ts';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

const mil = 0.0254;
const ohmsPerKftToKm = 1 / 0.3048;

/** The name of a gauge as the tables print it: 0 stands for 1/0. */
const gauge = (name: string) => (name.includes('/') ? name : Number(name));

describe('American Wire Gauge', () => {
  // ASTM B258, and NBS Handbook 100 (1966), Part I, section 2. From memory, recomputed.
  it('AWG-01: has its two anchors and its ratio', () => {
    within(awgDiameterMm(36), 0.127, 1e-9 * 0.127);
    within(awgDiameterMm(-3), 11.684, 1e-9 * 11.684);
    within(awgDiameterMm(10) / awgDiameterMm(11), 1.1229322, 1e-7 * 1.1229322);
    within(awgDiameterMm(4) / awgDiameterMm(10), 2.005, 0.00005);
    within((awgDiameterMm(4) / awgDiameterMm(10)) ** 2, 4.02, 0.005);
    within(awgOfDiameterMm(awgDiameterMm(17)), 17, 1e-12);
  });

  // Computed from ASTM B258 and IEC 60028; the classic table of NBS Circular 31.
  it.each(Object.entries(checks['AWG-02'].expected))('AWG-02: gauge %s', (name, row) => {
    const { results } = accept('wire', { awg: gauge(name) });
    within(results.bareDiameter.value, row.d_mm, 0.0002 * row.d_mm);
    // Printed to 0.01 mil, which is coarser than 0.02 % on the thin sizes.
    within(results.bareDiameter.value / 25.4, row.d_in, Math.max(0.0002 * row.d_in, 0.000005));
    within(results.area.value, row.area_mm2, 0.0005 * row.area_mm2);
    within(results.circularMils.value, row.circular_mils, 0.0005 * row.circular_mils);
    within(results.ohmsPerKm.value, row.ohm_per_km, 0.0005 * row.ohm_per_km);
    within(results.ohmsPerKm.value / ohmsPerKftToKm, row.ohm_per_1000ft, 0.0005 * row.ohm_per_1000ft);
  });

  // NEMA MW 1000, bare dimensions: the same wire from the diameter rounded to 0.1 mil, up to 0.5 % from AWG-02.
  it.each(Object.entries(checks['AWG-03'].expected))('AWG-03: gauge %s from the rounded diameter', (name, row) => {
    const { results } = accept('wire', { diameterMm: row.d_in_nom * 25.4 });
    const unit = 10 ** (Math.floor(Math.log10(row.ohm_kft_nom)) - 3);
    within(results.ohmsPerKm.value / ohmsPerKftToKm, row.ohm_kft_nom, unit);
    within(results.circularMils.value, row.cmil_nom, 0.5 * 10 ** (Math.floor(Math.log10(row.cmil_nom)) - 3));
    const listed = nemaFilmRow(Number(name));
    if (listed !== null) within(listed.leastBare / 1000, row.d_in_min, 1e-9);
  });
});

describe('conductor metals', () => {
  // IEC 60028 (1925); NBS Handbook 100 (1966), section 1.1; NBS Circular 31.
  it('CU-01: annealed copper', () => {
    const { resistivity20, density, constantCelsius } = conductors.copper;
    expect(1 / resistivity20).toBe(58);
    within(resistivity20, 0.017241, 5e-7);
    within(resistivity20 * density, 0.15328, 0.000005);
    expect(density).toBe(8.89);
    within(constantCelsius, 1 / 0.00393 - 20, 0.05);
  });

  // IEC 60076-2:2011; IEC 60034-1 has 235 for copper. Clause numbers from memory, so not printed.
  it('CU-02: the constants, seen through a resistance ratio of 1.25', () => {
    const hot = (constant: number) => 1.25 * (constant + 20) - constant;
    expect(hot(conductors.copper.constantCelsius)).toBe(83.625);
    expect(hot(235)).toBe(83.75);
    expect(hot(conductors.aluminium.constantCelsius)).toBe(81.25);
    within(resistanceFactor('copper', 83.625), 1.25, 1e-12);
    within(resistanceFactor('aluminium', 81.25), 1.25, 1e-12);
  });

  // Langsdorf, Theory of Alternating Current Machinery, ex. 1-15: I²R up, stray loss down with the temperature.
  it('CU-07: scales copper loss up and stray loss down from 20 to 75 °C', () => {
    const factor = resistanceFactor('copper', 75);
    within(504 * factor, 612.919, 0.001);
    within(126 / factor, 103.609, 0.001);
    within(504 * factor + 126 / factor, 717, 1);
  });
});

describe('film-insulated wire', () => {
  // IEC 60317-0-1, Table 1, R20 sizes. From memory, recomputed.
  it.each(Object.entries(checks['MW-01'].expected))('MW-01: %s mm', (nominal, row) => {
    const found = iecFilmRow(Number(nominal));
    expect(found).toEqual({
      nominal: Number(nominal),
      grade1: { leastIncrease: row.g1_min_increase, largestOverall: row.g1_max_od },
      grade2: { leastIncrease: row.g2_min_increase, largestOverall: row.g2_max_od },
      isConfirmed: true,
    });
    const wire = accept('wire', { diameterMm: Number(nominal), film: 'iec-grade-2' });
    within(wire.results.overallDiameter?.value, row.g2_max_od, 1e-9);
  });

  // IEC 60317-0-1, Annex A: sizes between two R20 sizes take the increase of the next larger one.
  it.each(Object.entries(checks['MW-02'].expected))('MW-02: %s mm', (nominal, row) => {
    const bare = Number.parseFloat(nominal);
    within(filmedWire('iec-grade-1', bare)?.largestOverallMm, row.g1_max_od, 0.0005 + 1e-9);
    within(filmedWire('iec-grade-2', bare)?.largestOverallMm, row.g2_max_od, 0.0005 + 1e-9);
  });

  // IEC 60317-0-1, conductor tolerances.
  it.each(checks['MW-03'].inputs.nominal_mm.map((nominal, index) => [nominal, index] as const))(
    'MW-03: tolerance of %d mm',
    (nominal, index) => {
      const found = iecFilmRow(nominal);
      expect(found === null ? null : iecConductorTolerance(found)).toBe(checks['MW-03'].expected.tolerance_mm[index]);
    },
  );

  // ANSI/NEMA MW 1000, Part 3. Another published table has 1.4 and 67.0 mil for single AWG 14: data of an edition.
  it('MW-04: increases and largest overall diameters', () => {
    const { min_increase_mil, max_od_mil, ...least } = checks['MW-04'].expected;
    for (const build of ['single', 'heavy'] as const) {
      for (const [awg, increase] of Object.entries(min_increase_mil[build])) {
        expect(nemaFilmRow(Number(awg))?.[build].leastIncrease, `${build} ${awg}`).toBe(increase);
      }
      for (const [awg, overall] of Object.entries(max_od_mil[build])) {
        expect(nemaFilmRow(Number(awg))?.[build].largestOverall, `${build} ${awg}`).toBe(overall);
      }
    }
    for (const [awg, overall] of Object.entries(least['min_od_heavy_mil (= min bare + min increase)'])) {
      within((filmedWire('nema-heavy', awgDiameterMm(Number(awg)))?.leastOverallMm ?? NaN) / mil, overall, 0.1);
    }
  });

  it('keeps every overall diameter above the bare one and growing with the size', () => {
    const singles = nemaFilm.flatMap(({ single }) => single.largestOverall ?? []);
    expect(singles).toEqual([...singles].sort((a, b) => b - a));
    for (const { single, heavy } of nemaFilm) {
      if (single.largestOverall === null || heavy.largestOverall === null) continue;
      expect(heavy.largestOverall).toBeGreaterThan(single.largestOverall);
    }
  });
});
