import { describe, expect, it } from 'vitest';
import { readNoLoad, type NoLoadSeen } from '../../../src-shared/fault/no-load.ts';
import { readLoaded, type LoadedSeen } from '../../../src-shared/fault/output.ts';

const seen: NoLoadSeen = {
  expectedAmps: 1.4,
  expectedWatts: null,
  nominalVolts: 120,
  amps: 4.9,
  volts: 120,
  averageVolts: null,
  turns: 132,
  addedTurns: 12,
  watts: null,
  hertz: null,
  fedOhms: null,
  tesla: null,
  secondary: null,
  hasLamp: false,
};
const causes = (more: Partial<NoLoadSeen>) => readNoLoad({ ...seen, ...more }).suspicions;
const fitting = (more: Partial<NoLoadSeen>) => causes(more).flatMap(({ cause, fits }) => (fits ? [cause] : []));

describe('a no-load current against the expected one', () => {
  it('says both figures', () => {
    expect(readNoLoad(seen).title).toBe('4.9 A where 1.4 A was expected.');
  });

  it('finds nothing within a quarter', () => {
    expect(readNoLoad({ ...seen, amps: 1.7 })).toMatchObject({ isAsExpected: true, suspicions: [] });
    expect(readNoLoad({ ...seen, amps: 1.8 }).isAsExpected).toBe(false);
  });

  it('sees twelve turns wound the wrong way: three to four times the current', () => {
    // (132 / 108)^5 = 2.73 and (132 / 108)^7 = 4.07: 3.8 to 5.7 A.
    expect(fitting({})[0]).toMatch(/^12 turns wound the wrong way.*3\.8 to 5\.7 A/);
    expect(fitting({ amps: 1.9 }).some((cause) => cause.includes('wrong way'))).toBe(false);
  });

  it('tells a joint by its gap: 0.5 A more on 120 turns are 0.07 mm', () => {
    // Ampère's law, by hand: 4e-7 π x 120 x 0.5 x √2 / 1.5 T = 0.0711 mm.
    const [gap] = fitting({ expectedAmps: 1.4, amps: 1.9, turns: 120, addedTurns: null });
    expect(gap).toMatch(/^A joint gap of about 0\.071 mm/);
  });

  it('rules a shorted turn out by a poor power factor, and suspects one by a good one', () => {
    expect(fitting({ watts: 60 }).some((cause) => cause.startsWith('A shorted turn'))).toBe(false);
    expect(fitting({ watts: 500 }).some((cause) => cause.startsWith('A shorted turn'))).toBe(true);
    expect(fitting({}).some((cause) => cause.includes('warm one spot'))).toBe(true);
  });

  it('names a soft supply where it is too little', () => {
    expect(fitting({ amps: 0.8 })[0]).toMatch(/soft supply/);
  });

  it('says nothing of turns that nobody knows', () => {
    expect(causes({ turns: null }).map(({ cause }) => cause.slice(0, 14))).toEqual(['A shorted turn']);
  });
});

describe('an output against its windings', () => {
  const loaded: LoadedSeen = {
    ohms: 0.2,
    secondaryOhms: 0.1,
    primaryOhms: 5,
    ratio: 0.1,
    shunts: 'not-known',
    lugOhms: null,
    lugKelvin: null,
    line: null,
    bend: null,
  };

  it('is as expected when the windings account for it', () => {
    // 0.1 + 5 x 0.1² = 0.15 Ω.
    expect(readLoaded({ ...loaded, ohms: 0.18 })?.isAsExpected).toBe(true);
  });

  it('names shunts, lugs and the house where they do not', () => {
    const found = readLoaded({ ...loaded, ohms: 0.4 });
    expect(found?.title).toBe('0.4 Ω at the output where the windings have 0.15 Ω.');
    expect(found?.suspicions.map(({ cause }) => cause.split(' ').slice(0, 2).join(' '))).toEqual([
      'Magnetic shunts',
      'A poor',
      'The sag',
    ]);
    const without = readLoaded({ ...loaded, ohms: 0.4, shunts: 'none' });
    expect(without?.suspicions).toHaveLength(2);
  });

  it('is not read where a resistance was not measured', () => {
    expect(readLoaded({ ...loaded, primaryOhms: null })).toBeNull();
  });
});
