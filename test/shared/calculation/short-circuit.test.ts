import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

describe('a short-circuit test by itself', () => {
  it('gives impedance, resistance and reactance as a textbook has them', () => {
    // Kosow, Electric Machinery and Transformers, Ex. 14-17: 50 V, 8.7 A, 250 W give 5.75, 3.3 and 4.7 Ω.
    const { results } = accept('short-circuit', { volts: 50, amps: 8.7, watts: 250, celsius: 20 });
    expect(results.impedance.value).toBeCloseTo(5.747, 3);
    expect(results.resistance?.value).toBeCloseTo(3.303, 3);
    expect(results.reactance?.value).toBeCloseTo(4.703, 3);
    expect(results.powerFactor?.value).toBeCloseTo(0.5747, 4);
  });

  it('without watts gives the impedance alone, and says so', () => {
    const answer = accept('short-circuit', { volts: { value: 50, u: 0.5 }, amps: 8.7 });
    expect(Object.keys(answer.results)).toEqual(['impedance']);
    expect(answer.results.impedance.u).toBeCloseTo(0.5 / 8.7, 9);
    expect(cautionCodes(answer)).toEqual(['shunts', 'temperature-not-given', 'not-apart']);
  });

  it('refuses watts that volts and amps cannot carry', () => {
    expect(refusal('short-circuit', { volts: 5, amps: 2, watts: 11 })).toMatchObject({ path: 'watts' });
  });
});

describe('two wires', () => {
  it('takes the leads off, and goes to 20 °C by the metal', () => {
    const given = { ohms: 14.6, leadOhms: 0.3, celsius: 30, metal: 'copper' };
    const { results } = accept('two-wire-resistance', given);
    expect(results.ohms.value).toBeCloseTo(14.3, 12);
    // IEC 60076-2: 14.3 x (234.5 + 20) / (234.5 + 30).
    expect(results.ohmsAt20.value).toBeCloseTo(13.75936, 5);
  });

  it('is a check only under 2 ohm: no result', () => {
    expect(refusal('two-wire-resistance', { ohms: 2.1, leadOhms: 0.2, celsius: 20 })).toMatchObject({
      code: 'outside-validity',
      path: 'ohms',
    });
  });

  it('says that the leads are in it, and allows for either metal', () => {
    const answer = accept('two-wire-resistance', { ohms: 5, celsius: 40 });
    expect(cautionCodes(answer)).toEqual(['leads-in-it', 'metal-not-given']);
    expect(answer.results.ohmsAt20.u).toBeGreaterThan(0);
  });
});
