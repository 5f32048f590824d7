import { describe, expect, it } from 'vitest';
import { accept, cautionCodes } from './ask.ts';
import { atTerminalVolts, cores, type SaturatingCore } from './saturating-core.ts';

const primaryTurns = 120;
const hertz = 60;
const ohmsOf = (primaryOhms: number, turns: number) => (primaryOhms * turns) / primaryTurns;

interface Bench {
  readonly core: SaturatingCore;
  readonly primaryOhms: number;
  readonly sourceOhms: number;
}

interface Setting {
  readonly turns: number;
  readonly volts: number;
}

const sweep = [50, 70, 85, 95, 105, 113, 120, 126, 132].map((volts): Setting => ({ turns: primaryTurns, volts }));
const temporaryTurns = [0, 6, 12, 18, 24, 32, 40].map((more): Setting => ({ turns: primaryTurns + more, volts: 120 }));
const mixed: readonly Setting[] = [
  { turns: 120, volts: 60 },
  { turns: 120, volts: 90 },
  { turns: 120, volts: 105 },
  { turns: 120, volts: 120 },
  { turns: 120, volts: 130 },
  { turns: 132, volts: 120 },
  { turns: 132, volts: 130 },
  { turns: 144, volts: 120 },
  { turns: 150, volts: 115 },
];

/** What meters read with so many turns in circuit. */
const read = ({ core, primaryOhms, sourceOhms }: Bench, { turns, volts }: Setting) =>
  atTerminalVolts(core, { turns, ohms: ohmsOf(primaryOhms, turns), sourceOhms, hertz }, volts);

function pointOf(bench: Bench, setting: Setting, stated = setting.turns) {
  const { volts, amps, watts, averageVolts } = read(bench, setting);
  return { volts, amps, watts, turns: stated, ...(bench.sourceOhms > 0 ? { averageVolts } : {}) };
}

const ask = (bench: Bench, points: readonly object[], more: object = {}) =>
  accept('excitation', {
    primaryTurns,
    points,
    ...(bench.primaryOhms > 0 ? { primaryOhms: bench.primaryOhms } : {}),
    supplyVolts: 120,
    addedTurns: [0, 10, 20, 34],
    hertz,
    ironAreaMm2: 1e6 * bench.core.area,
    ...more,
  });

const within = (value: number | undefined, truth: number, part: number) =>
  expect(Math.abs((value ?? NaN) / truth - 1)).toBeLessThan(part);

describe.each(Object.entries(cores))('predictions for the %s core, against its simulation', (_, core) => {
  describe.each([
    ['no resistance', 0],
    ['some resistance', 0.4],
    ['a resistance that takes up to a twentieth of the volts', 3],
  ])('with %s', (__, primaryOhms) => {
    it.each([
      ['a sweep on a stiff supply', 0, sweep],
      ['temporary turns on a stiff supply', 0, temporaryTurns],
      ['both mixed', 0, mixed],
      ['a sweep on a soft supply, average volts read', 15, sweep],
      ['both mixed on a soft supply, average volts read', 15, mixed],
    ])('holds from %s', (___, sourceOhms, settings) => {
      const bench = { core, primaryOhms, sourceOhms };
      const answer = ask(
        bench,
        settings.map((setting) => pointOf(bench, setting)),
      );
      expect(answer.results).not.toHaveProperty('offCurve');
      const stiff = { ...bench, sourceOhms: 0 };
      for (const { addedTurns, amps, watts, tesla, secondaryVoltsFactor, extrapolated } of answer.results.predictions) {
        const truth = read(stiff, { turns: primaryTurns + addedTurns, volts: 120 });
        within(amps.value, truth.amps, 0.03);
        within(watts?.value, truth.watts, 0.03);
        within(tesla?.value, truth.peakTesla, 0.01);
        const now = read(stiff, { turns: primaryTurns, volts: 120 });
        within(secondaryVoltsFactor.value, truth.peakTesla / now.peakTesla, 0.01);
        expect(extrapolated).toBe(false);
      }
    });
  });

  it('finds the knee where the simulation takes the step', () => {
    const bench = { core, primaryOhms: 0.4, sourceOhms: 0 };
    const settings = [60, 80, 95, 102, 108, 114, 120, 126, 134, 142, 155, 170].map((volts) => ({
      turns: primaryTurns,
      volts,
    }));
    const { knee } = ask(
      bench,
      settings.map((setting) => pointOf(bench, setting)),
    ).results;
    const amps = (volts: number) => read(bench, { turns: primaryTurns, volts }).amps;
    const at = knee?.value ?? NaN;
    within(amps(1.1 * at) / amps(at), 1.5, 0.01);
  });

  it('tells the current on another frequency', () => {
    const bench = { core, primaryOhms: 0.4, sourceOhms: 0 };
    const points = sweep.map((setting) => ({ ...pointOf(bench, setting), hertz }));
    const answer = ask(bench, points, { hertz: 50, supplyVolts: 100, addedTurns: [0, 12] });
    expect(cautionCodes(answer)).toContain('hertz-converted');
    for (const { addedTurns, amps, tesla, watts } of answer.results.predictions) {
      const turns = primaryTurns + addedTurns;
      const truth = atTerminalVolts(core, { turns, ohms: ohmsOf(0.4, turns), sourceOhms: 0, hertz: 50 }, 100);
      within(amps.value, truth.amps, 0.03);
      within(tesla?.value, truth.peakTesla, 0.01);
      // Loss goes with a power of the frequency between 1 and 2, which is in the interval.
      expect(watts?.interval95?.[0]).toBeLessThan(truth.watts);
      expect(watts?.interval95?.[1]).toBeGreaterThan(truth.watts);
    }
  });

  it('shows what turns wound the wrong way round would draw', () => {
    const bench = { core, primaryOhms: 0.4, sourceOhms: 0 };
    const [prediction] = ask(
      bench,
      sweep.map((setting) => pointOf(bench, setting)),
      { addedTurns: [12] },
    ).results.predictions;
    const feed = { turns: 108, ohms: ohmsOf(0.4, 132), sourceOhms: 0, hertz };
    const truth = atTerminalVolts(core, feed, 120).amps;
    const { interval95 } = prediction?.ampsIfOpposing ?? {};
    expect(interval95?.[0]).toBeLessThan(truth);
    expect(interval95?.[1]).toBeGreaterThan(truth);
  });

  it.each([2, 3, 4, 6, 7, 8, 9].flatMap((index) => [12, -12, 4, -4].map((off) => [index, off] as const)))(
    'points out that the count at point %i is off by %i',
    (wrong, off) => {
      const bench = { core, primaryOhms: 0.4, sourceOhms: 0 };
      const settings = [...mixed.slice(0, 4), { turns: 120, volts: 112 }, ...mixed.slice(4)];
      const points = settings.map((setting, index) =>
        index === wrong
          ? pointOf(bench, { ...setting, turns: setting.turns + off }, setting.turns)
          : pointOf(bench, setting),
      );
      const answer = ask(bench, points, { addedTurns: [8] });
      expect(answer.results.offCurve).toEqual([wrong]);
      const text = answer.cautions.find(({ code }) => code === 'candidate-turn-count')?.text;
      // Told as a person counts points, from 1.
      expect(text).toMatch(new RegExp(`The ${wrong + 1}(?:rd|th) point would fit`));
      const named = Number(/with about (\d+) turns/.exec(text ?? '')?.[1]);
      expect(Math.abs(named - (settings[wrong]?.turns ?? NaN) - off)).toBeLessThanOrEqual(2);
    },
  );

  it('points out added turns that were wound the wrong way round, all of them together', () => {
    const bench = { core, primaryOhms: 0.4, sourceOhms: 0 };
    const points = mixed.map((setting) =>
      setting.turns === 132 ? pointOf(bench, { ...setting, turns: 108 }, 132) : pointOf(bench, setting),
    );
    const answer = ask(bench, points, { addedTurns: [8] });
    expect(answer.results.offCurve).toEqual([5, 6]);
    const text = answer.cautions.find(({ code }) => code === 'candidate-turn-count')?.text;
    expect(text).toMatch(/wrong way round/);
  });
});

describe('a soft supply', () => {
  const core = cores['appliance'];
  if (core === undefined) throw new Error('The appliance core is missing.');
  // A lamp that glows: the volts at the winding are turned up behind it.
  const lamp = { core, primaryOhms: 0.4, sourceOhms: 50 };
  const stiff = { ...lamp, sourceOhms: 0 };
  const settings = [60, 80, 95, 105, 112, 118, 122, 126, 130, 135].map((volts) => ({ turns: primaryTurns, volts }));
  const behindLamp = new Set([5, 8]);
  const points = settings.map((setting, index) => {
    const { averageVolts, ...point } = {
      averageVolts: undefined,
      ...pointOf(behindLamp.has(index) ? lamp : stiff, setting),
    };
    return {
      ...point,
      supplyKind: behindLamp.has(index) ? 'mains-through-lamp' : 'variable-transformer',
      with: averageVolts,
    };
  });
  const without = points.map(({ with: _, ...point }) => point);

  it('draws 5 to 25 % less at the same r.m.s. volts, and less than that at the same average volts', () => {
    for (const index of behindLamp) {
      const setting = settings[index] ?? { turns: primaryTurns, volts: NaN };
      const [soft, hard] = [read(lamp, setting), read(stiff, setting)];
      const less = 1 - soft.amps / hard.amps;
      expect(less).toBeGreaterThan(0.05);
      expect(less).toBeLessThan(0.25);
      const sameAverage = read(stiff, { ...setting, volts: soft.averageVolts });
      expect(Math.abs(soft.amps / sameAverage.amps - 1)).toBeLessThan(0.06);
    }
  });

  it('is named as what may be behind points off the curve, with those that were taken so', () => {
    const answer = ask(stiff, without, { addedTurns: [8] });
    expect(answer.results.offCurve).toEqual([...behindLamp]);
    const text = answer.cautions.find(({ code }) => code === 'candidate-soft-supply')?.text;
    expect(text).toContain('mains-through-lamp');
  });

  it('is named too where nobody said what fed the points', () => {
    const silent = settings.map((setting, index) => {
      const { volts, amps, watts } = read(index === 7 ? lamp : stiff, setting);
      return { volts, amps, watts };
    });
    const answer = ask(stiff, silent, { addedTurns: [8] });
    expect(answer.results.offCurve).toEqual([7]);
    const named = ['candidate-turn-count', 'candidate-joint', 'candidate-meter-kind', 'candidate-soft-supply'];
    expect(cautionCodes(answer)).toEqual(expect.arrayContaining(named));
  });

  it('does no harm where the average volts were read', () => {
    const read = points.map(({ with: averageVolts, ...point }) =>
      averageVolts === undefined ? point : { ...point, averageVolts },
    );
    expect(ask(stiff, read, { addedTurns: [8] }).results).not.toHaveProperty('offCurve');
  });

  it('is not named where every point was taken on mains', () => {
    const mains = without.map((point) => ({ ...point, supplyKind: 'mains' }));
    expect(cautionCodes(ask(stiff, mains, { addedTurns: [8] }))).not.toContain('candidate-soft-supply');
  });
});
