import { describe, expect, it } from 'vitest';
import { readDescription } from '../../../src-shared/meter/description.ts';
import { valueAt, type Clipped } from '../../../src-shared/practice/clipped.ts';
import { controlsAtFirst, type PracticeControls } from '../../../src-shared/practice/controls.ts';
import { demonstrationCores, demonstrationTruth } from '../../../src-shared/practice/demonstration.ts';
import { usualSizes } from '../../../src-shared/practice/fault.ts';
import { driftAfter } from '../../../src-shared/practice/fault-effect.ts';
import { observe } from '../../../src-shared/practice/observed.ts';
import { furtherPracticeMeters, practicePair } from '../../../src-shared/practice/practice-pair.ts';
import { lineAt } from '../../../src-shared/practice/practice-supply.ts';
import { hiddenWindings, practiceBenchOf, turnsAddedIn } from '../../../src-shared/practice/scene.ts';
import { insulationResistance } from '../../../src-shared/procedure/insulation-resistance.ts';
import { loadedRun } from '../../../src-shared/procedure/loaded-run.ts';
import { noLoad } from '../../../src-shared/procedure/no-load.ts';
import { polarity } from '../../../src-shared/procedure/polarity.ts';
import { testCoil } from '../../../src-shared/procedure/test-coil.ts';
import { windingResistance } from '../../../src-shared/procedure/winding-resistance.ts';
import type { Build, Winding } from '../../../src-shared/record/build.ts';
import { rewound } from '../../../src-shared/record/rewound.ts';
import type { Supply } from '../../../src-shared/record/session.ts';

const truth = demonstrationTruth('dimmer-a');
const mains: Supply = { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes' };
const windings: readonly Winding[] = (demonstrationCores[0]?.windings ?? []).map((fields, index) => ({
  windingId: index + 1,
  revisionId: index + 1,
  replaces: null,
  reason: null,
  wallMs: 0,
  fields,
}));

function benchWith(controls: Partial<PracticeControls>, supply: Supply = mains, isOn = true) {
  const bench = practiceBenchOf({
    truth,
    windings,
    turnsAdded: turnsAddedIn(windings),
    supply,
    line: 1,
    fedWindingId: 1,
    controls: { ...controlsAtFirst, ...controls },
    lying: { fault: controls.fault ?? 'none', sizes: usualSizes },
    temperatures: { winding: 21, core: 21 },
    isOn,
  });
  const observed = bench === null ? null : observe(bench);
  if (bench === null || observed === null) throw new Error('The primary is fed.');
  const on = (channel: Clipped['channel'], responding: Clipped['responding'] = 'true-rms') =>
    valueAt(bench, observed, { channel, responding });
  return { observed, on };
}
const channelOf = (procedure: typeof noLoad, id: string): Clipped['channel'] => {
  const channel = procedure.channels.find((one) => one.id === id);
  if (channel === undefined) throw new Error(`No channel ${id}.`);
  return channel;
};

describe('the practice bench, as its meters see it', () => {
  it('shows the demonstration cores at work: a low-voltage coil, and a no-load current of some tenths of an ampere', () => {
    const low = benchWith({}, { ...mains, kind: 'isolated-low-voltage', volts: 24 });
    const ratio = low.on(channelOf(testCoil, 'primary-volts')) / low.on(channelOf(testCoil, 'coil-volts'));
    expect(Math.abs(ratio - 41.2)).toBeLessThan(0.2);
    const amps = benchWith({}).on(channelOf(noLoad, 'line-amps'));
    expect(amps).toBeGreaterThan(0.05);
    expect(amps).toBeLessThan(1);
  });

  it('goes with what is set: knob, load, temporary turns either way round, and a fault', () => {
    const plain = benchWith({}).observed;
    const variable: Supply = { ...mains, kind: 'variable-transformer' };
    expect(benchWith({ supplyPercent: 50 }, variable).observed.lineAmps.rms).toBeLessThan(plain.lineAmps.rms / 2);
    // The mains have no knob: one that was turned down before says nothing of them.
    expect(benchWith({ supplyPercent: 50 }).observed).toEqual(plain);
    expect(benchWith({ loadOhms: 1 }).observed.lineAmps.rms).toBeGreaterThan(plain.lineAmps.rms + 0.3);
    expect(benchWith({ addedTurns: 40 }).observed.lineAmps.rms).toBeLessThan(plain.lineAmps.rms);
    expect(benchWith({ addedTurns: 40, addedOpposed: true }).observed.lineAmps.rms).toBeGreaterThan(plain.lineAmps.rms);
    expect(benchWith({ fault: 'shorted-turn' }).observed.watts).toBeGreaterThan(plain.watts + 50);
    expect(benchWith({ fault: 'earth-open' }).observed.coreVolts).toBeGreaterThan(50);
  });

  it('shows each fault where its meters are clipped, and nowhere else', () => {
    const low: Supply = { ...mains, kind: 'isolated-low-voltage', volts: 24 };
    const faulty = (fault: PracticeControls['fault'], more: Partial<PracticeControls> = {}, supply = mains) =>
      benchWith({ ...more, fault }, supply);
    const ratio = (fault: PracticeControls['fault'], more: Partial<PracticeControls> = {}) => {
      const { on } = faulty(fault, more, low);
      return on(channelOf(testCoil, 'primary-volts')) / on(channelOf(testCoil, 'coil-volts'));
    };
    const near = (value: number, expected: number) => {
      expect(Math.abs(value / expected - 1)).toBeLessThan(0.01);
    };
    near(ratio('half-turn'), 412 / 10.5);
    near(ratio('miscounted-coil'), 412 / 11);
    // Wound anew the coil is counted right.
    near(ratio('miscounted-coil', { coilTurns: 20 }), 412 / 20);

    const joined = (fault: PracticeControls['fault']) => faulty(fault, {}, low).on(channelOf(polarity, 'joined-volts'));
    near(joined('none') / joined('swapped-lead'), (412 + 22) / (412 - 22));

    const load = { loadOhms: 1 };
    const lug = (fault: PracticeControls['fault']) => faulty(fault, load).on(channelOf(loadedRun, 'lug-volts'));
    // 30 mΩ over 0.3, and so much less current.
    near(lug('hot-joint') / lug('none'), 97.3);
    const lugCelsius = (fault: PracticeControls['fault']) =>
      faulty(fault, load).on(channelOf(loadedRun, 'lug-temperature'));
    expect(lugCelsius('hot-joint')).toBeGreaterThan(lugCelsius('none') + 20);

    const ohms = (fault: PracticeControls['fault']) => faulty(fault).on(channelOf(windingResistance, 'winding-ohms'));
    near(ohms('feed-joint') - ohms('none'), 1.2);
    // Resistivities of the two metals, IEC 60889 over IEC 60028.
    near(ohms('other-metal') / ohms('none'), 0.028264 * 58);
    const megohms = (fault: PracticeControls['fault'], more: Partial<PracticeControls> = {}) =>
      faulty(fault, more).on(channelOf(insulationResistance, 'insulation-ohms')) / 1e6;
    near(megohms('none'), 240);
    near(megohms('damp-insulation'), 0.25);
    expect(megohms('none', { endOnCore: true })).toBeLessThan(1e-5);
    const earth = (fault: PracticeControls['fault']) => faulty(fault).on(channelOf(insulationResistance, 'earth-ohms'));
    expect([earth('none') < 0.5, earth('earth-open') > 1e6]).toEqual([true, true]);

    const plain = benchWith({}).observed.lineAmps.rms;
    const amps = (fault: PracticeControls['fault'], more: Partial<PracticeControls> = {}) =>
      faulty(fault, more).observed.lineAmps.rms;
    expect(amps('joint-gap')).toBeGreaterThan(1.5 * plain);
    near(amps('none', { jointGapMm: 0.15 }), amps('joint-gap'));
    near(amps('opposed-turns', { addedTurns: 20 }), amps('none', { addedTurns: 20, addedOpposed: true }));
    expect(amps('opposed-strands')).toBeGreaterThan(20 * plain);

    const volts = (fault: PracticeControls['fault']) => faulty(fault, load).on(channelOf(loadedRun, 'primary-volts'));
    expect(volts('soft-supply')).toBeLessThan(0.97 * volts('none'));
    const output = (fault: PracticeControls['fault']) =>
      faulty(fault, { loadOhms: 0.4 }).on(channelOf(loadedRun, 'secondary-volts'));
    expect(output('shunts-in')).toBeLessThan(0.93 * output('none'));
  });

  it('gives what the supply is told to give', () => {
    const hertz = { id: 'line-hertz', kind: 'hertz', unit: 'Hz', on: 'fed' } as const;
    expect([benchWith({}).on(hertz), benchWith({ hertz: 60 }).on(hertz)]).toEqual([50, 60]);
    expect(benchWith({ hertz: 60 }).observed.peakTesla).toBeLessThan(0.9 * benchWith({}).observed.peakTesla);
    const span = (line: PracticeControls['line']) => {
      const seen = Array.from({ length: 200 }, (_, index) => lineAt(line, index * 10_000));
      return [Math.min(...seen), Math.max(...seen)];
    };
    expect(span('steady')).toEqual([1, 1]);
    expect((span('wandering')[1] ?? 0) - (span('wandering')[0] ?? 0)).toBeGreaterThan(0.008);
    expect(span('wandering')[0]).toBeGreaterThan(0.994);
    expect(span('drifting')[0]).toBeLessThan(0.945);
  });

  it('lets a drifting meter go its way, and no further than a flat battery takes it', () => {
    const lying = { fault: 'drifting-meter', sizes: usualSizes } as const;
    expect(driftAfter(lying, 2)).toBeCloseTo(1.03, 10);
    expect(driftAfter(lying, 600)).toBe(1.15);
    expect(driftAfter({ ...lying, sizes: { ...usualSizes, driftPerMinute: -0.01 } }, 3)).toBeCloseTo(0.97, 10);
    expect(driftAfter({ ...lying, fault: 'none' }, 3)).toBe(1);
  });

  it('shows nothing energised while power is off, and ohms all the same', () => {
    const off = benchWith({}, mains, false);
    expect(off.on(channelOf(noLoad, 'line-amps'))).toBe(0);
    const ohms = { id: 'winding-ohms', kind: 'resistance', unit: 'Ω', on: null } as const;
    expect(Math.abs(off.on(ohms) - 2.9)).toBeLessThan(0.05);
  });
});

it('knows the turns of every build, those that were added since among them', () => {
  const fields = windings[0]?.fields;
  const more = fields === undefined ? null : rewound(fields, 14);
  if (more === null) throw new Error('Turns can be added.');
  const build = (number: number, of: readonly Winding[]): Build => ({
    buildId: number,
    coreId: 1,
    number,
    wallMs: 0,
    fields: { title: 'as found', joint: 'as-welded', shunts: 'none' },
    windings: [...of],
    hasRuns: false,
  });
  const second = windings.map((one, index) => (index === 0 ? { ...one, fields: more } : one));
  const known = hiddenWindings(truth, [build(1, windings), build(2, second)]).filter(
    ({ windingId }) => windingId === 1,
  );
  expect(known.map(({ buildId, turns }) => [buildId, turns])).toEqual([
    [1, 412],
    [2, 426],
  ]);
});

it('has two cores that differ, and meters that are described well enough to be kept', () => {
  expect(new Set(demonstrationCores.map((core) => core.truth.turns.primary)).size).toBe(2);
  const meters = [...practicePair, ...furtherPracticeMeters];
  expect(meters.map((meter) => readDescription(meter).ok)).toEqual(meters.map(() => true));
  expect(new Set(practicePair.map(({ ranges }) => ranges[0]?.percentOfReading)).size).toBe(2);
});
