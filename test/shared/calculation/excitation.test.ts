import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exact } from '../../../src-shared/quantity/estimate.ts';
import { supplyKinds } from '../../../src-shared/calculation/excitation/input.ts';
import { excitationExample } from '../../../src-shared/calculation/excitation/example.ts';
import { supplyKinds as sessionKinds } from '../../../src-shared/record/session.ts';
import { accept, cautionCodes, refusal } from './ask.ts';

/** A curve in closed form, in ampere-turns at so many volts per turn. */
const ampereTurns = (e: number) => 30 * e + 90 * e ** 9;
const primaryTurns = 120;

/** What meters read on it where a winding has no resistance. */
const at = (volts: number, turns = primaryTurns) => ({ volts, amps: ampereTurns(volts / turns) / turns, turns });
const sweep = [50, 65, 80, 92, 100, 108, 115, 120, 126, 132].map((volts) => at(volts));
const given = { primaryTurns, points: sweep, supplyVolts: 120, addedTurns: [0, 12, 24], hertz: 60 };

const close = (a: number | null | undefined, b: number, part = 1e-9) =>
  expect(Math.abs((a ?? NaN) / b - 1), `${a} and ${b}`).toBeLessThan(part);

describe('excitation', () => {
  it('predicts what the law of the curve says: I′ = (N/N′) I(V N/N′)', () => {
    const { predictions } = accept('excitation', given).results;
    expect(predictions.map(({ addedTurns }) => addedTurns)).toEqual([0, 12, 24]);
    for (const { addedTurns, amps, voltsPerTurn, secondaryVoltsFactor } of predictions) {
      const turns = primaryTurns + addedTurns;
      close(amps.value, ampereTurns(120 / turns) / turns, 0.005);
      close(voltsPerTurn.value, 120 / turns);
      close(secondaryVoltsFactor.value, primaryTurns / turns);
    }
  });

  it('lies on the points that it was given, lowest first, and draws a line that rises through them', () => {
    const { curve, drawn } = accept('excitation', { ...given, points: [...sweep].reverse() }).results;
    expect(curve.map(({ point }) => point)).toEqual([9, 8, 7, 6, 5, 4, 3, 2, 1, 0]);
    close(curve[0]?.voltsPerTurn.value, 50 / 120);
    close(curve[0]?.ampereTurns.value, ampereTurns(50 / 120));
    expect(curve[0]).not.toHaveProperty('coreWatts');
    const [across, up] = [drawn.filter((_, k) => k % 2 === 0), drawn.filter((_, k) => k % 2 === 1)];
    close(across.at(0), 50 / 120);
    close(across.at(-1), 132 / 120);
    for (const line of [across, up]) expect([...line].sort((a, b) => a - b)).toEqual(line);
  });

  it('takes the copper at the resistance of the new turns into the watts', () => {
    const plain = { ...excitationExample, points: excitationExample.points.filter((point) => !('turns' in point)) };
    const { predictions } = accept('excitation', plain).results;
    const cheaper = accept('excitation', { ...plain, ohmsPerAddedTurn: 0 }).results.predictions;
    predictions.forEach(({ addedTurns, amps, watts }, k) => {
      const copper = (amps.value ** 2 * addedTurns * 2.1) / 300;
      const difference = (watts?.value ?? NaN) - (cheaper[k]?.watts?.value ?? NaN);
      expect(difference).toBeGreaterThanOrEqual(0);
      expect(difference).toBeLessThanOrEqual(copper + 1e-9);
      expect(difference).toBeGreaterThanOrEqual(0.8 * copper);
    });
  });

  it('gives the flux density where frequency and iron are known', () => {
    const [now] = accept('excitation', { ...given, ironAreaMm2: 2450 }).results.predictions;
    close(now?.tesla?.value, (1e6 * 1) / (Math.SQRT2 * Math.PI * 60 * 2450));
    expect(accept('excitation', given).results.predictions[0]).not.toHaveProperty('tesla');
  });

  it('follows the average-responding volts where they were read', () => {
    const points = sweep.map((point) => ({ ...point, volts: 1.01 * point.volts, averageVolts: point.volts }));
    const both = [given, { ...given, points }].map((input) => accept('excitation', input).results.predictions);
    both[0]?.forEach(({ amps }, k) => close(both[1]?.[k]?.amps.value, amps.value));
  });

  it('says in the uncertainty what lies between the points', () => {
    const between = { ...given, addedTurns: [20] };
    const [last] = accept('excitation', between).results.predictions;
    expect(last?.amps.u).toBeGreaterThan(0);
    expect(last?.amps.budget?.every(({ input }) => input.startsWith('interpolation.'))).toBe(true);
    const few = sweep.filter((_, k) => k % 3 === 0);
    const [rough] = accept('excitation', { ...between, points: few }).results.predictions;
    expect(rough?.amps.u).toBeGreaterThan(5 * (last?.amps.u ?? NaN));
  });

  it('marks what lies beyond the points, and refuses where nobody can tell', () => {
    const low = { ...given, points: sweep.slice(0, 7) };
    const answer = accept('excitation', low);
    expect(answer.results.predictions.map(({ extrapolated }) => extrapolated)).toEqual([true, false, false]);
    expect(cautionCodes(answer)).toContain('extrapolated');
    const down = accept('excitation', { ...given, points: sweep.slice(4), addedTurns: [12, 60] });
    expect(down.results.predictions.map(({ extrapolated }) => extrapolated)).toEqual([false, true]);
    expect(refusal('excitation', { ...given, points: sweep.slice(0, 3) })).toMatchObject({
      code: 'outside-validity',
      path: 'addedTurns.0',
    });
  });

  it('finds the fewest turns that keep every limit, listed or not', () => {
    const asked = (limits: object, extra: object = {}) =>
      accept('excitation', { ...given, ironAreaMm2: 2450, limits, ...extra }).results.fewestAddedTurns;
    const amps = (added: number) =>
      accept('excitation', { ...given, addedTurns: [added] }).results.predictions[0]?.amps;
    for (const limit of [0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7]) {
      const found = asked({ amps: limit }) ?? NaN;
      expect(amps(found)?.value).toBeLessThanOrEqual(limit);
      expect(amps(found - 1)?.value).toBeGreaterThan(limit);
    }
    const fewest = asked({ amps: 0.5 }) ?? NaN;
    const byFlux = asked({ tesla: 1.3 }) ?? NaN;
    expect(byFlux).toBe(Math.ceil((120 * 1e6) / (Math.SQRT2 * Math.PI * 60 * 2450 * 1.3) - 120));
    expect(asked({ amps: 0.5, tesla: 1.3 })).toBe(Math.max(fewest, byFlux));
    expect(asked({ amps: 5 })).toBe(0);
    expect(asked({ amps: 1e-9 })).toBeNull();
    expect(accept('excitation', given).results).not.toHaveProperty('fewestAddedTurns');
    const watts = accept('excitation', { ...excitationExample, limits: { watts: 50 } }).results.fewestAddedTurns ?? NaN;
    const wattsAt = (added: number) =>
      accept('excitation', { ...excitationExample, addedTurns: [added] }).results.predictions[0]?.watts?.value;
    expect(wattsAt(watts)).toBeLessThanOrEqual(50);
    expect(wattsAt(watts - 1)).toBeGreaterThan(50);
  });

  it('keeps to one state of the core: the one asked for, else the one with the most points', () => {
    const states = [
      ...sweep.map((point) => ({ ...point, coreState: 'as found' })),
      ...sweep.slice(0, 6).map((point) => ({ ...point, amps: 1.5 * point.amps, coreState: 're-welded' })),
    ];
    const most = accept('excitation', { ...given, points: states });
    expect(most.results.curve).toHaveLength(10);
    expect(most.results).not.toHaveProperty('offCurve');
    expect(cautionCodes(most)).toContain('other-core-state');
    const other = accept('excitation', { ...given, points: states, coreState: 're-welded', addedTurns: [24] });
    expect(other.results.curve.map(({ point }) => point)).toEqual([10, 11, 12, 13, 14, 15]);
    close(other.results.predictions[0]?.amps.value, (1.5 * ampereTurns(120 / 144)) / 144, 0.02);
    const even = states.filter(({ coreState }, k) => coreState === 're-welded' || k < 6);
    expect(refusal('excitation', { ...given, points: even })).toMatchObject({ code: 'missing-key', path: 'coreState' });
  });

  it.each([
    ['watts over volts × amps', { watts: 1000 }, 'points.3.watts'],
    ['a copper loss over the watts', { watts: 0.01, amps: 2 }, 'points.3.watts'],
    ['a drop over half of the volts', { amps: 500 }, 'points.3.amps'],
  ])('refuses %s', (_, wrong, path) => {
    const points = sweep.map((point, k) => (k === 3 ? { ...point, ...wrong } : point));
    const error = refusal('excitation', { ...given, points, primaryOhms: 0.4 });
    expect(error).toMatchObject({ code: 'conflict', path });
  });

  it.each([
    ['points all in one place', { points: [at(100), at(100), at(100)] }, 'not-determined', 'points'],
    [
      'two frequencies with none asked for',
      { points: sweep.map((p, k) => ({ ...p, hertz: k < 5 ? 50 : 60 })), hertz: undefined },
      'missing-key',
      'hertz',
    ],
    ['fewer than no turns', { addedTurns: [0, -120] }, 'too-small', 'addedTurns.1'],
    ['a limit on watts without watts', { limits: { watts: 50 } }, 'missing-key', 'points.0.watts'],
    ['a limit on flux without iron', { limits: { tesla: 1.5 } }, 'missing-key', 'ironAreaMm2'],
    ['ohms of an added turn without those of the primary', { ohmsPerAddedTurn: 0.01 }, 'missing-key', 'primaryOhms'],
    ['a state that no point has', { coreState: 'hot' }, 'conflict', 'coreState'],
  ])('refuses %s', (_, wrong, code, path) => {
    const input = Object.fromEntries(Object.entries({ ...given, ...wrong }).filter(([, value]) => value !== undefined));
    expect(refusal('excitation', input)).toMatchObject({ code, path });
  });

  it('tells what it did without, and what more turns do to the secondaries', () => {
    const { hertz, ...without } = given;
    expect(hertz).toBe(60);
    const codes = cautionCodes(accept('excitation', without));
    const expected = [
      'hertz-not-given',
      'primary-drop-not-taken-out',
      'loss-not-known',
      'secondaries-lower',
      'opposing-turns',
    ];
    expect(codes).toEqual(expect.arrayContaining([...expected, 'readings-taken-as-exact']));
    const { cautions } = accept('excitation', given);
    expect(cautions.find(({ code }) => code === 'secondaries-lower')?.text).toContain('12 more: 9.09 % less');
    const codesOf = (extra: object) =>
      cautionCodes(accept('excitation', { ...given, points: sweep.map((point) => ({ ...point, ...extra })) }));
    expect(codesOf({ meterKind: 'average' })).toContain('average-amps');
    expect(codesOf({ supplyKind: 'mains-through-lamp' })).toContain('soft-supply');
    expect(cautionCodes(accept('excitation', { ...given, addedTurns: [-5] }))).toContain('fewer-turns');
    expect(cautionCodes(accept('excitation', { ...given, points: sweep.slice(5, 8) }))).toContain('few-points');
  });

  it('says where points make no curve at all, and takes what they scatter by into the uncertainty', () => {
    const off = [0.1, -0.3, 0.35, -0.2, 0.4, -0.35, 0.3, -0.4, 0.25, -0.1];
    const points = sweep.map((point, k) => ({ ...point, amps: { value: point.amps * (1 + (off[k] ?? 0)), u: 0.001 } }));
    const answer = accept('excitation', { ...given, points });
    expect(cautionCodes(answer)).toContain('no-one-curve');
    const [now] = answer.results.predictions;
    expect((now?.amps.u ?? NaN) / (now?.amps.value ?? NaN)).toBeGreaterThan(0.1);
    expect(now?.amps.budget?.some(({ input }) => input === 'scatter')).toBe(true);
  });

  it('knows the supplies of a session', () => {
    expect(supplyKinds).toEqual(sessionKinds);
  });

  it('does not know what nobody knows', () => {
    const points = sweep.map((point, k) => (k === 7 ? { ...point, amps: { value: point.amps, u: null } } : point));
    const answer = accept('excitation', { ...given, points });
    expect(answer.results.predictions[0]?.amps.u).toBeNull();
    expect(cautionCodes(answer)).toContain('uncertainty-not-known');
  });

  it('lets a gain that all currents share go straight through', () => {
    const points = sweep.map((point) => ({
      ...point,
      amps: { value: point.amps, u: 0, shared: { id: 'clamp', u: 0.02 * point.amps } },
    }));
    const [now] = accept('excitation', { ...given, points }).results.predictions;
    close(now?.amps.u, 0.02 * (now?.amps.value ?? NaN), 1e-4);
  });
});

describe('laws of excitation', () => {
  const options = { seed: 20260502, numRuns: 40 };
  const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  /** Readings of some curve with errors of a percent. */
  const bench = fc
    .record({
      flat: positive(20, 90),
      steep: positive(40, 120),
      power: positive(4, 12),
      ohms: positive(0.05, 2),
      errors: fc.array(fc.record({ volts: positive(-0.01, 0.01), amps: positive(-0.01, 0.01) }), {
        minLength: 6,
        maxLength: 12,
      }),
    })
    .map(({ flat, steep, power, ohms, errors }) => ({
      primaryTurns,
      primaryOhms: ohms,
      supplyVolts: 120,
      hertz: 60,
      points: errors.map((error, k) => {
        const turns = primaryTurns + (k % 3 === 0 ? 12 : 0);
        const e = 0.5 + (0.6 * k) / (errors.length - 1);
        const volts = e * turns * (1 + error.volts);
        const amps = ((flat * e + steep * e ** power) / turns) * (1 + error.amps);
        return {
          volts: { ...forJson(volts), u: 0.005 * volts },
          amps: { ...forJson(amps), u: 0.01 * amps },
          watts: { ...forJson(0.3 * volts * 0.5 * amps + amps ** 2 * ohms * 1.1), u: 1 },
          turns,
        };
      }),
    }));
  const forJson = (value: number) => {
    const { dof: _, ...rest } = exact(value);
    return rest;
  };
  const added = Array.from({ length: 13 }, (_, k) => 4 * k);

  it('never predicts more current for more turns', () => {
    fc.assert(
      fc.property(bench, (given) => {
        const { predictions } = accept('excitation', { ...given, addedTurns: added }).results;
        const amps = predictions.map((each) => each.amps.value);
        amps.slice(1).forEach((each, k) => expect(each).toBeLessThanOrEqual(amps[k] ?? NaN));
      }),
      options,
    );
  });

  it('does not care in which order the points come', () => {
    fc.assert(
      fc.property(
        bench.chain((given) =>
          fc.record({
            given: fc.constant(given),
            points: fc.shuffledSubarray(given.points, { minLength: given.points.length }),
          }),
        ),
        ({ given, points }) => {
          const [forth, shuffled] = [given.points, points].map(
            (each) => accept('excitation', { ...given, points: each, addedTurns: [0, 10] }).results,
          );
          forth?.predictions.forEach(({ amps, watts }, k) => {
            const other = shuffled?.predictions[k];
            close(other?.amps.value, amps.value);
            close(other?.amps.u, amps.u ?? NaN, 1e-6);
            close(other?.watts?.value, watts?.value ?? NaN);
          });
          const off = (forth?.offCurve ?? [])
            .map((index) => points.findIndex((each) => each === given.points[index]))
            .sort((a, b) => a - b);
          expect(shuffled?.offCurve ?? []).toEqual(off);
        },
      ),
      options,
    );
  });

  it('does not care in which units volts and amps are', () => {
    const times = (by: number) => (each: { readonly value: number; readonly u: number }) => ({
      ...each,
      value: by * each.value,
      u: by * each.u,
    });
    fc.assert(
      fc.property(bench, positive(0.01, 100), positive(0.01, 100), (given, byVolts, byAmps) => {
        const scaled = {
          ...given,
          primaryOhms: (given.primaryOhms * byVolts) / byAmps,
          supplyVolts: 120 * byVolts,
          points: given.points.map(({ volts, amps, watts, turns }) => ({
            volts: times(byVolts)(volts),
            amps: times(byAmps)(amps),
            watts: times(byVolts * byAmps)(watts),
            turns,
          })),
        };
        const [plain, other] = [given, scaled].map(
          (each) => accept('excitation', { ...each, addedTurns: [0, 10] }).results,
        );
        plain?.predictions.forEach(({ amps, watts }, k) => {
          close(other?.predictions[k]?.amps.value, amps.value * byAmps);
          close(other?.predictions[k]?.amps.u, (amps.u ?? NaN) * byAmps, 1e-6);
          close(other?.predictions[k]?.watts?.value, (watts?.value ?? NaN) * byVolts * byAmps);
        });
      }),
      options,
    );
  });

  it('does not care which winding was fed, when all turns go in proportion', () => {
    fc.assert(
      fc.property(bench, positive(0.2, 5), (given, by) => {
        const other = {
          ...given,
          primaryTurns: primaryTurns * by,
          primaryOhms: given.primaryOhms * by ** 2,
          supplyVolts: 120 * by,
          points: given.points.map(({ volts, amps, watts, turns }) => ({
            volts: { ...volts, value: volts.value * by, u: volts.u * by },
            amps: { ...amps, value: amps.value / by, u: amps.u / by },
            watts,
            turns: turns * by,
          })),
        };
        const [plain, scaled] = [given, other].map(
          (each) => accept('excitation', { ...each, addedTurns: [0] }).results,
        );
        close(scaled?.predictions[0]?.amps.value, (plain?.predictions[0]?.amps.value ?? NaN) / by);
        close(scaled?.predictions[0]?.watts?.value, plain?.predictions[0]?.watts?.value ?? NaN);
      }),
      options,
    );
  });
});
