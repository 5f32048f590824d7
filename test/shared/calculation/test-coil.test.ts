import { describe, expect, it } from 'vitest';
import { accept as acceptBy, cautionCodes as codes, refusal as refusalBy } from './ask.ts';

const accept = (input: unknown) => acceptBy('test-coil', input);
const refusal = (input: unknown) => refusalBy('test-coil', input);

/** A reading within ± half of the truth, every place equally likely. */
const within = (value: number, half: number, shared?: { id: string; u: number }) => ({
  value,
  u: half / Math.sqrt(3),
  shape: 'rectangular',
  ...(shared === undefined ? {} : { shared }),
});

describe('test coil: the count', () => {
  it('is coil turns times the ratio of the volts', () => {
    const { results, working } = accept({ readings: [{ coilTurns: 10, coilVolts: 9.6, primaryVolts: 115.2 }] });
    expect(results.primaryTurns).toEqual({ value: 120, u: 0, unit: 'turns', dof: null, interval95: [120, 120] });
    expect(results.voltsPerTurn.value).toBeCloseTo(0.96, 12);
    expect(results.nearestWholeTurns).toBe(120);
    expect(working[0]).toEqual({
      symbol: 'N[0]',
      formula: 'n V1 / Vc',
      numbers: '10 × 115.2 / 9.6',
      value: 120,
      unit: 'turns',
    });
  });

  it('takes the mean of the primary before and after, and counts their difference as drift', () => {
    const { results } = accept({
      readings: [{ coilTurns: 10, coilVolts: 10, primaryVolts: 119, primaryVoltsAfter: 121 }],
    });
    expect(results.primaryTurns.value).toBeCloseTo(120, 12);
    expect(results.primaryTurns.u).toBeCloseTo(1 / Math.sqrt(3), 6);
  });

  it('loses the gain that one meter on one range has in both readings', () => {
    const gain = (volts: number) => ({ id: 'meter A, 20 V', u: 0.01 * volts });
    const { results } = accept({
      readings: [{ coilTurns: 10, coilVolts: within(0.5, 0.001, gain(0.5)), primaryVolts: within(6, 0.001, gain(6)) }],
    });
    const digits = 120 * Math.hypot(0.001 / 0.5, 0.001 / 6);
    expect(results.primaryTurns.u).toBeCloseTo(digits / Math.sqrt(3), 6);
  });

  it('cancels both gains in the geometric mean of a reading and the same with meters exchanged', () => {
    const a = (volts: number) => ({ value: volts * 1.02, u: 0, shared: { id: 'a', u: 0.01 * volts * 1.02 } });
    const b = (volts: number) => ({ value: volts * 0.99, u: 0, shared: { id: 'b', u: 0.01 * volts * 0.99 } });
    const { results } = accept({
      readings: [
        { coilTurns: 20, coilVolts: b(2), primaryVolts: a(12) },
        { coilTurns: 20, coilVolts: a(2), primaryVolts: b(12), swapped: true },
      ],
    });
    expect(results.primaryTurns.value).toBeCloseTo(120, 9);
    expect(results.primaryTurns.u).toBeLessThan(1e-9);
  });

  it('says so when an exchanged reading has no partner', () => {
    const answer = accept({ readings: [{ coilTurns: 20, coilVolts: 2, primaryVolts: 12, swapped: true }] });
    expect(codes(answer)).toContain('swap-without-partner');
  });

  it('names a whole number only when the interval holds just one', () => {
    const doubtful = { readings: [{ coilTurns: 10, coilVolts: within(10, 0.1), primaryVolts: 120 }] };
    expect(accept(doubtful).results).not.toHaveProperty('nearestWholeTurns');
    const sharp = { readings: [{ coilTurns: 10, coilVolts: within(10, 0.02), primaryVolts: 120 }] };
    expect(accept(sharp).results.nearestWholeTurns).toBe(120);
    const wide = { readings: [{ coilTurns: 10, coilVolts: within(10, 0.05), primaryVolts: 120 }] };
    const [low = NaN, high = NaN] = accept(wide).results.primaryTurns.interval95 ?? [];
    expect([Math.floor(low), Math.ceil(high)]).toEqual([119, 121]);
    expect(accept(wide).results.nearestWholeTurns).toBe(120);
    const between = { readings: [{ coilTurns: 10, coilVolts: 10, primaryVolts: 120.4 }] };
    expect(accept(between).results).not.toHaveProperty('nearestWholeTurns');
  });

  it('counts the allowance for the drop against a whole number', () => {
    const reading = { coilTurns: 10, coilVolts: 10, primaryVolts: 120 };
    const drop = { primaryOhms: 0.4, primaryReactanceOhms: 1 };
    const calm = accept({ readings: [reading], ...drop, noLoadAmps: 0.1 });
    expect(calm.results.nearestWholeTurns).toBe(120);
    const heavy = accept({ readings: [reading], ...drop, noLoadAmps: 4 });
    expect(heavy.results).not.toHaveProperty('nearestWholeTurns');
  });

  it('never counts by a coil round an outer limb or beyond shunts', () => {
    const reading = { coilTurns: 20, coilVolts: 10, primaryVolts: 120 };
    const outer = accept({ readings: [{ ...reading, position: 'outer-limb' }] });
    expect(outer.results.primaryTurns.value).toBeCloseTo(120, 9);
    // Half width of 5 % by common practice.
    expect(outer.results.primaryTurns.u).toBeCloseTo((120 * 0.05) / Math.sqrt(3), 6);
    expect(outer.results).not.toHaveProperty('nearestWholeTurns');
    const beyond = accept({ readings: [{ ...reading, position: 'beyond-shunts' }] });
    expect(codes(beyond)).toContain('beyond-shunts');
    expect(beyond.results).not.toHaveProperty('nearestWholeTurns');
  });

  it('passes an unknown uncertainty on as unknown, never as none', () => {
    const answer = accept({ readings: [{ coilTurns: 10, coilVolts: { value: 10, u: null }, primaryVolts: 120 }] });
    expect(answer.results.primaryTurns).toMatchObject({ value: 120, u: null, interval95: null });
    expect(codes(answer)).toContain('uncertainty-not-known');
  });

  it('takes the scatter of readings that were given as exact', () => {
    const { results } = accept({
      readings: [
        { coilTurns: 10, coilVolts: 10, primaryVolts: 120 },
        { coilTurns: 10, coilVolts: 10.1, primaryVolts: 120 },
      ],
    });
    expect(results.primaryTurns.dof).toBe(1);
    expect(results.primaryTurns.u).toBeCloseTo(120 * (Math.log(1.01) / 2), 2);
  });
});

describe('test coil: miscounts', () => {
  const read = (coilTurns: number, really: number) => ({
    coilTurns,
    coilVolts: within(really * 0.98, 0.01),
    primaryVolts: within(117.6, 0.05),
  });

  it('finds the one coil of three that was counted wrong', () => {
    const { results } = accept({ readings: [read(10, 10), read(20, 21), read(30, 30)] });
    expect(results.miscountSuspected).toBe(1);
    expect(results.miscountCandidates).toMatchObject([{ readings: [1], coilTurns: 20, isWhole: true }]);
    expect(results.worstResidual).toBeGreaterThan(10);
    expect(results).not.toHaveProperty('nearestWholeTurns');
  });

  it('blames the coil that was read twice when only its miscount is a whole turn', () => {
    const { results } = accept({ readings: [read(10, 11), read(10, 11), read(20, 20)] });
    expect(results.miscountSuspected).toBe(0);
  });

  it('cannot say which of two is wrong, and names both', () => {
    const answer = accept({ readings: [read(10, 10), read(20, 21)] });
    expect(answer.results.miscountSuspected).toBeNull();
    const said = answer.cautions.find(({ code }) => code === 'readings-disagree')?.text ?? '';
    expect(said).toContain('the 1st reading');
    expect(said).toContain('the 2nd reading');
    expect(answer.results.miscountCandidates.filter(({ isWhole }) => isWhole)).toMatchObject([{ readings: [1] }]);
  });

  it('widens the uncertainty so that it holds readings that disagree', () => {
    const { results } = accept({ readings: [read(10, 10), read(20, 21)] });
    const [low, high] = results.primaryTurns.interval95 ?? [0, 0];
    expect(low).toBeLessThan(114.5);
    expect(high).toBeGreaterThan(119.9);
  });

  it('sees a half turn on every coil as an offset', () => {
    const answer = accept({ readings: [read(10, 10.5), read(20, 20.5), read(40, 40.5)] });
    expect(answer.results.offsetFit?.offsetTurns.value).toBeCloseTo(0.5, 3);
    expect(codes(answer)).toContain('offset');
  });
});

describe('test coil: what coil would pin one turn', () => {
  // A 120-turn primary at 1 V per turn; digits and gains as cheap meters state them (own arithmetic).
  const coil = (percent: number, digit: number) => within(10, 0.01 * percent * 10 + digit);

  it('is about 8 turns unsure on a 200 V range of 1.2 % + 10 digits', () => {
    const { results } = accept({
      readings: [{ coilTurns: 10, coilVolts: coil(1.2, 1), primaryVolts: within(120, 0.012 * 120 + 1) }],
    });
    expect(results.primaryTurns.u).toBeCloseTo(7.9, 1);
  });

  it('says none when the gain dominates', () => {
    const answer = accept({
      readings: [
        {
          coilTurns: 10,
          coilVolts: within(10, 0.05, { id: 'meter A, 20 V', u: 0.046 }),
          primaryVolts: within(120, 0.1, { id: 'meter A, 200 V', u: 0.83 }),
        },
      ],
    });
    expect(answer.results).toMatchObject({ suggestedCoilTurns: null, suggestionReason: 'gain-dominates' });
    expect(codes(answer)).toContain('gain-dominates');
  });

  it('suggests turns that then do pin it', () => {
    const one = (coilTurns: number) => ({
      readings: [
        {
          coilTurns,
          coilVolts: within(coilTurns * 0.0417, 0.002, { id: 'm', u: 0.008 * coilTurns * 0.0417 }),
          primaryVolts: within(5, 0.002, { id: 'm', u: 0.04 }),
        },
      ],
    });
    const suggested = accept(one(10)).results.suggestedCoilTurns ?? NaN;
    const half = (turns: number) => {
      const [low, high] = accept(one(turns)).results.primaryTurns.interval95 ?? [0, Infinity];
      return (high - low) / 2;
    };
    expect(half(suggested)).toBeLessThanOrEqual(0.5);
    expect(half(suggested - 1)).toBeGreaterThan(0.5);
  });
});

describe("test coil: the primary's own drop", () => {
  const reading = { coilTurns: 10, coilVolts: within(9.7, 0.01), primaryVolts: within(120, 0.1) };
  const drop = { noLoadAmps: 4, primaryOhms: 0.4, primaryReactanceOhms: 1 };

  it('is corrected when current, watts, resistance and reactance are known', () => {
    const { results } = accept({ readings: [reading], ...drop, noLoadWatts: 60 });
    const [loss, magnetising] = [0.5, Math.sqrt(16 - 0.25)];
    const emf = Math.hypot(120 - loss * 0.4 - magnetising * 1, loss * 1 - magnetising * 0.4);
    expect(results.primaryTurns.value).toBeCloseTo((10 * emf) / 9.7, 9);
    expect(results.dropAllowance?.value).toBe(0);
    expect(results.dropCorrection?.value).toBeCloseTo((10 * (emf - 120)) / 9.7, 9);
  });

  it('is bounded from one side without the watts', () => {
    const answer = accept({ readings: [reading], ...drop });
    const high = (10 * 120) / 9.7;
    expect(answer.results.primaryTurns.value).toBeCloseTo(high, 9);
    expect(answer.results.dropAllowance?.value).toBeCloseTo((high * 4 * Math.hypot(0.4, 1)) / 120, 9);
    expect(codes(answer)).toContain('primary-drop-not-corrected');
  });

  it('is not known from the resistance alone', () => {
    const answer = accept({ readings: [reading], noLoadAmps: 4, primaryOhms: 0.4 });
    expect(answer.results.dropAllowance).toBeNull();
    expect(codes(answer)).toContain('primary-drop-not-known');
  });

  it('refuses watts that the volts and amps cannot make', () => {
    expect(refusal({ readings: [reading], ...drop, noLoadWatts: 500 })).toMatchObject({
      code: 'conflict',
      path: 'noLoadWatts',
    });
  });
});

describe('test coil: refusals', () => {
  const reading = { coilTurns: 10, coilVolts: 10, primaryVolts: 120 };
  it.each([
    [{ readings: [{ ...reading, coilTurns: 10.5 }] }, 'not-whole', 'readings.0.coilTurns'],
    [{ readings: [{ ...reading, coilVolts: 0 }] }, 'zero', 'readings.0.coilVolts'],
    [{ readings: [{ ...reading, coilVolts: -1 }] }, 'negative', 'readings.0.coilVolts'],
    [{ readings: [{ ...reading, coilVolts: Infinity }] }, 'not-finite', 'readings.0.coilVolts'],
    [{ readings: [{ ...reading, coilVolts: NaN }] }, 'not-finite', 'readings.0.coilVolts'],
    [{ readings: [{ ...reading, coilVolts: '10' }] }, 'wrong-type', 'readings.0.coilVolts'],
    [{ readings: [{ ...reading, coilVolts: { value: 10 } }] }, 'missing-key', 'readings.0.coilVolts.u'],
    [{ readings: [{ ...reading, coilVolts: { value: 10, u: -1 } }] }, 'negative', 'readings.0.coilVolts.u'],
    [{ readings: [{ coilTurns: 10, coilVolts: 10 }] }, 'missing-key', 'readings.0.primaryVolts'],
    [{ readings: [] }, 'too-few', 'readings'],
    [{ readings: [reading], hertz: 0 }, 'zero', 'hertz'],
    [undefined, 'wrong-type', ''],
    [[], 'wrong-type', ''],
  ])('refuses %j as %s at "%s"', (input, code, path) => {
    expect(refusal(input)).toMatchObject({ code, path });
  });

  it('names an unknown key and the nearest known one', () => {
    const error = refusal({ readings: [{ coilTurn: 10, coilVolts: 10, primaryVolts: 120 }] });
    expect(error).toMatchObject({ code: 'unknown-key', path: 'readings.0.coilTurn' });
    expect(error.message).toContain('"coilTurns"');
  });
});
