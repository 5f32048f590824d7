import { describe, expect, it } from 'vitest';
import { comparable } from '../../../../src-shared/calculation/compare/comparable.ts';
import { accept, cautionCodes, refusal } from '../ask.ts';
import { errorOfFivePercent, falseChanges } from './identical-builds.ts';

type Given = Readonly<Record<string, unknown>>;
const amps = (value: unknown, more: Given = {}) => ({ quantity: 'no-load current', unit: 'A', value, ...more });
const pair = (before: Given, after: Given, sets: { readonly before?: Given; readonly after?: Given } = {}) => ({
  before: { results: [before], ...sets.before },
  after: { results: [after], ...sets.after },
});
const only = (input: unknown) => {
  const [first] = accept('compare', input).results.quantities;
  if (first === undefined) throw new Error('There is nothing compared.');
  return first;
};
const currents = (more: Given, moreAfter = more) =>
  pair(amps({ value: 2, u: 0.01 }, more), amps({ value: 1, u: 0.01 }, moreAfter));

describe('compare', () => {
  it('calls a difference changed only where it passes its own doubt', () => {
    const at = (after: number) => only(pair(amps({ value: 2, u: 0.03 }), amps({ value: after, u: 0.04 })));
    // u = 0.05, and 1.96 times that is 0.098.
    expect(at(2.099)).toMatchObject({ verdict: 'changed', reason: null });
    expect(at(2.097)).toMatchObject({ verdict: 'no-visible-change', reason: null });
    expect(at(1.901).verdict).toBe('changed');
    expect(at(1.9).difference).toMatchObject({ unit: 'A', dof: null });
    expect(at(1.9).u).toBeCloseTo(0.05, 12);
    expect(at(1.9).leastVisible).toBeCloseTo(0.05 * 1.959964, 6);
    expect(at(1.9).difference?.value).toBeCloseTo(-0.1, 12);
  });

  it('takes out what one meter on one range does to both', () => {
    const clamp = (value: number, id: string) => ({ value, u: 0.004, shared: { id, u: 0.01 * value } });
    const same = only(pair(amps(clamp(2, 'clamp')), amps(clamp(1.96, 'clamp'))));
    const other = only(pair(amps(clamp(2, 'clamp')), amps(clamp(1.96, 'another'))));
    expect(same.u).toBeCloseTo(Math.hypot(0.004, 0.004, 0.01 * 0.04), 12);
    expect(same.verdict).toBe('changed');
    expect(other.u).toBeCloseTo(Math.hypot(0.004, 0.004, 0.02, 0.0196), 12);
    expect(other.verdict).toBe('no-visible-change');
  });

  it('keeps the sign of what meters give to a derived result', () => {
    const ratio = (value: number, sign: number) => ({
      quantity: 'turns',
      value: { value, u: 0.1 },
      parts: [
        { id: 'a', u: 0.5 },
        { id: 'b', u: sign * 0.5 },
        { u: 0.2, dof: 5 },
      ],
    });
    expect(only(pair(ratio(120, -1), ratio(121, -1))).u).toBeCloseTo(Math.hypot(0.1, 0.1, 0.2, 0.2), 9);
    expect(only(pair(ratio(120, 1), ratio(121, -1))).u).toBeCloseTo(Math.hypot(0.1, 0.1, 0.2, 0.2, 1), 9);
    expect(only(pair(ratio(120, -1), ratio(121, -1))).difference?.dof).toBeCloseTo(0.1 ** 2 / ((2 * 0.2 ** 4) / 5), 7);
  });

  it('never takes an unknown uncertainty for none', () => {
    const found = only(pair(amps({ value: 2, u: null }), amps({ value: 1, u: 0.01 })));
    expect(found).toMatchObject({ verdict: 'not-comparable', reason: 'uncertainty-not-known', u: null });
    expect(found.difference).toMatchObject({ value: -1, u: null, interval95: null });
    expect(found.why).not.toBeNull();
  });

  it('compares counts as they are', () => {
    const turns = (value: number) => ({ quantity: 'turns counted', value });
    expect(only(pair(turns(120), turns(132)))).toMatchObject({ verdict: 'changed', u: 0, leastVisible: 0 });
    expect(only(pair(turns(120), turns(120)))).toMatchObject({ verdict: 'no-visible-change', u: 0 });
  });

  it('gives a difference of temperatures in degrees of difference', () => {
    const hot = (value: number) => ({ quantity: 'end', unit: '°C', value: { value, u: 1 } });
    expect(only(pair(hot(92), hot(71))).difference).toMatchObject({ value: -21, unit: 'K' });
  });

  it('says which quantities only one set has, and in which unit they are not alike', () => {
    const ohms = { quantity: 'resistance', unit: 'Ω', value: 2 };
    const milliohms = { quantity: 'resistance', unit: 'mΩ', value: 2000 };
    const answer = accept('compare', {
      before: { results: [ohms, amps(2)] },
      after: { results: [{ quantity: 'hum', value: 3 }, milliohms] },
    });
    expect(answer.results.quantities).toMatchObject([
      { quantity: 'resistance', verdict: 'not-comparable', reason: 'unit-differs', difference: null, u: null },
      { quantity: 'no-load current', reason: 'only-in-one', before: 2, after: null },
      { quantity: 'hum', reason: 'only-in-one', before: null, after: 3 },
    ]);
    expect(answer.results.counts).toEqual({ changed: 0, noVisibleChange: 0, notComparable: 3 });
  });

  it('refuses a quantity that is there twice, and sets with nothing in common', () => {
    const twice = { before: { results: [amps(2)] }, after: { results: [amps(1), amps(1.1)] } };
    expect(refusal('compare', twice)).toMatchObject({ code: 'conflict', path: 'after.results.1.quantity' });
    expect(refusal('compare', pair(amps(2), { quantity: 'hum', value: 1 }))).toMatchObject({
      code: 'not-determined',
      path: 'after.results',
    });
  });
});

describe('the conditions of a comparison', () => {
  const at = (conditions: Given) => ({ conditions });

  it.each([
    ['hertz', 50, 50.4, 60],
    ['volts', 120, 121, 122],
    ['amps', 20, 20.2, 21],
    ['celsius', 20, 21, 21.1],
    ['ambientCelsius', 20, 29, 31],
    ['startCelsius', 20, 25, 26],
  ])('compares within the bound of %s and not beyond it', (condition, before, near, far) => {
    expect(only(currents(at({ [condition]: before }), at({ [condition]: near }))).verdict).toBe('changed');
    expect(only(currents(at({ [condition]: before }), at({ [condition]: far })))).toMatchObject({
      verdict: 'not-comparable',
      reason: 'condition-differs',
      condition,
      difference: null,
      u: null,
    });
  });

  it('does not compare temperatures in unlike rooms', () => {
    const hot = (value: number, ambientCelsius: number) => ({
      quantity: 'end',
      unit: '°C',
      value: { value, u: 0.2 },
      conditions: { ambientCelsius },
    });
    expect(only(pair(hot(92, 20), hot(89, 22)))).toMatchObject({ condition: 'ambientCelsius' });
    expect(only(pair(hot(92, 20), hot(89, 20.5))).verdict).toBe('changed');
  });

  it.each([
    ['meterKind', 'true-rms', 'average-responding'],
    ['supplyKind', 'mains', 'mains-through-lamp'],
  ])('does not compare over unlike words for %s', (condition, one, other) => {
    expect(only(currents(at({ [condition]: one }), at({ [condition]: other })))).toMatchObject({
      reason: 'condition-differs',
      condition,
    });
    expect(only(currents(at({ [condition]: one }))).verdict).toBe('changed');
  });

  it('does not compare where only one side noted a condition', () => {
    expect(only(currents(at({ hertz: 50 }), {}))).toMatchObject({
      verdict: 'not-comparable',
      reason: 'condition-not-given',
      condition: 'hertz',
      why: 'The frequency after was not noted.',
    });
  });

  it('takes the conditions of the set for results that state none, and none where a result says so', () => {
    const sets = { before: { conditions: { hertz: 50 } }, after: { conditions: { hertz: 60 } } };
    expect(only(pair(amps(2), amps(1), sets)).condition).toBe('hertz');
    expect(only(pair(amps(2, at({})), amps(1, at({})), sets)).verdict).toBe('changed');
  });

  it('brings values to the same volts with the power that the curve gave', () => {
    const u = 0.01;
    const power = (voltsExponent: unknown) =>
      only(
        pair(
          amps({ value: 2, u }, { voltsExponent, conditions: { volts: { value: 120, u: 0.2 } } }),
          amps({ value: 2 * 1.05 ** 5, u }, { voltsExponent, conditions: { volts: { value: 126, u: 0.2 } } }),
        ),
      );
    const known = power(5);
    expect(known.difference?.value).toBeCloseTo(0, 12);
    expect(known.verdict).toBe('no-visible-change');
    // 2 × 5 × u(V) / V for either of the volts, beside the two readings.
    const after = 0.01 / 1.05 ** 5;
    expect(known.u).toBeCloseTo(Math.hypot(u, after, (10 * 0.2) / 120, (10 * 0.2) / 126), 6);
    const doubtful = power({ value: 5, u: 0.5 });
    expect((doubtful.u ?? 0) ** 2 - (known.u ?? 0) ** 2).toBeCloseTo((2 * Math.log(1.05) * 0.5) ** 2, 6);
  });

  it('does not stretch a power of the volts over more than 10 %', () => {
    const at = (volts: number) =>
      only(
        pair(
          amps(2, { voltsExponent: 5, conditions: { volts: 120 } }),
          amps(1, { voltsExponent: 5, conditions: { volts } }),
        ),
      );
    expect(at(132).verdict).toBe('changed');
    expect(at(135)).toMatchObject({ reason: 'condition-differs', condition: 'volts' });
  });

  it('goes by volts over hertz, as the flux does', () => {
    const state = (value: number, volts: number, hertz: number) =>
      amps({ value, u: 0.001 }, { voltsExponent: 4, conditions: { volts, hertz } });
    expect(only(pair(state(2, 120, 60), state(2, 120.6, 60.3))).verdict).toBe('no-visible-change');
  });

  it('allows for a sixth power where nobody gave one, and says so', () => {
    const state = (value: number, volts: number) => amps({ value, u: 0.001 }, { conditions: { volts } });
    const near = accept('compare', pair(state(2, 120), state(2.04, 120.6)));
    expect(near.results.quantities[0]?.verdict).toBe('no-visible-change');
    expect(cautionCodes(near)).toContain('volts-allowed-for');
    const [same] = accept('compare', pair(state(2, 120), state(2.04, 120))).results.quantities;
    expect(same?.verdict).toBe('changed');
  });

  it('says what else differs between the builds, and that conditions were not noted', () => {
    const sets = { before: { joint: 'as-welded', shunts: 'in' }, after: { joint: 'clamped', shunts: 'not-known' } };
    expect(cautionCodes(accept('compare', pair(amps(2), amps(1), sets)))).toEqual([
      'joint-differs',
      'shunts-differs',
      'conditions-not-given',
    ]);
  });

  it('warns of chance where much is compared', () => {
    const results = Array.from({ length: 5 }, (_, index) => ({ quantity: `q${index}`, value: { value: index, u: 1 } }));
    const sets = { before: { results }, after: { results } };
    expect(cautionCodes(accept('compare', sets))).toContain('many-compared');
  });
});

describe('results of calculations in a comparison', () => {
  it('keeps the whole uncertainty, its degrees of freedom and its shape', () => {
    const readings = [
      {
        coilTurns: 20,
        coilVolts: { value: 1, u: 0.002, shape: 'rectangular', shared: { id: 'm', u: 0.01 } },
        primaryVolts: { value: 6, u: 0.02, dof: 4, shared: { id: 'n', u: 0.03 } },
      },
    ];
    const { primaryTurns } = accept('test-coil', { readings }).results;
    const item = comparable('turns', primaryTurns);
    expect(item.value).toMatchObject({ value: 120, shape: 'rectangular' });
    expect(item.parts?.map((each) => ('id' in each ? each.id : null))).toEqual(['m', 'n', null]);
    // Against an exact value the difference has all of the result's uncertainty.
    const found = only(pair(item, { quantity: 'turns', unit: 'turns', value: 120 })).difference;
    expect(found?.u).toBeCloseTo(primaryTurns.u ?? NaN, 9);
    expect((found?.dof ?? NaN) / (primaryTurns.dof ?? NaN)).toBeCloseTo(1, 8);
    expect(found?.interval95?.[1]).toBeCloseTo((primaryTurns.interval95?.[1] ?? NaN) - 120, 9);
  });

  it('keeps unknown unknown, and exact exact', () => {
    const result = { value: 3, unit: '', dof: null, interval95: null };
    expect(comparable('x', { ...result, u: null })).toEqual({ quantity: 'x', value: { value: 3, u: null } });
    // So many degrees of freedom are none to speak of: the next calculation takes no such number.
    const many = comparable('x', { ...result, u: 0.1, dof: 1e18 });
    expect(JSON.stringify(many)).not.toContain('dof');
    expect(comparable('x', { ...result, u: 0 })).toEqual({ quantity: 'x', value: { value: 3, u: 0 } });
  });

  it('calls identical builds changed one time in twenty', () => {
    const pairs = 400;
    const found = falseChanges(20260511, pairs);
    expect(found.size).toBe(4);
    for (const [quantity, share] of found) {
      expect(Math.abs(share - 0.05), `${quantity}: ${share}`).toBeLessThan(errorOfFivePercent(pairs, 3));
    }
  });
});
