import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Answer } from '../../../src-shared/calculation/answer.ts';
import type { CalculationName, ResultsOf } from '../../../src-shared/calculation/table.ts';
import { tell, typedMeter } from '../../walk.ts';
import { lowSource, mains, refusedWith, variable, Workbench } from './workbench.ts';

let bench: Workbench;
beforeEach(() => {
  bench = new Workbench();
});
afterEach(() => bench.close());

/** The results of an answer, which has to be one of that calculation. */
function results<N extends CalculationName>(answer: unknown, name: N): ResultsOf[N] {
  const given = answer as Answer<ResultsOf[N]> & { name?: string };
  if (!given.ok) throw new Error(`Refused: ${JSON.stringify(given)}`);
  expect(given.name).toBe(name);
  return given.results;
}

const noLoadAnswers = { turnsAdded: 'no', expectedAmps: 0.8 };

describe('a no-load point', () => {
  const channels = ['primary-volts', 'line-amps', 'watts', 'core-temperature'];

  it('keeps settled values as one point and works them out', async () => {
    // By hand: 40 W of 230 V x 0.5 A.
    await bench.open(mains);
    await bench.setUp('no-load', channels, noLoadAnswers);
    await bench.live();
    bench.clock.pass(3000);
    await bench.type({ 'primary-volts': '230', 'line-amps': '0.5', watts: '40', 'core-temperature': '21.5' });
    const { point } = await bench.keep();
    expect(point?.values.map(({ channel, value }) => [channel, value])).toEqual([
      ['primary-volts', 230],
      ['line-amps', 0.5],
      ['watts', 40],
      ['core-temperature', 21.5],
    ]);
    const run = await bench.run();
    const found = results(run.soFar, 'no-load');
    expect(found.powerFactor?.value).toBeCloseTo(40 / 115, 9);
    // 0.5² x 2 Ω of copper, the rest is iron.
    expect(found.coreLoss?.value).toBeCloseTo(39.5, 6);
    expect(run.answers).toEqual(noLoadAnswers);
    const kept = await bench.ask('result.keep', { runId: run.run.runId });
    expect(kept).toMatchObject({ calculation: 'no-load', runId: run.run.runId });
  });

  it('without watts keeps the amps and says that the loss is not known', async () => {
    await bench.open(mains);
    await bench.setUp('no-load', ['primary-volts', 'line-amps'], noLoadAnswers);
    await bench.live();
    bench.clock.pass(3000);
    await bench.type({ 'primary-volts': '230', 'line-amps': '0.5' });
    await bench.keep();
    expect(results((await bench.run()).soFar, 'no-load')).toMatchObject({ isLossKnown: false });
  });

  it('keeps nothing that is not read, and takes a point back with a reason', async () => {
    await bench.open(mains);
    await bench.setUp('no-load', channels, noLoadAnswers);
    const runId = await bench.live();
    bench.clock.pass(3000);
    await bench.type({ 'primary-volts': '230', 'line-amps': '0.5' });
    expect(await refusedWith(bench.keep())).toMatchObject({ code: 'not-settled' });
    expect((await bench.run()).waitingFor).toBe('No point is kept yet.');
    await bench.type({ watts: '40' });
    const { point } = await bench.keep();
    const eventId = point?.eventId ?? 0;
    await bench.ask('point.withdraw', { runId, eventId, reason: 'Clamp was open' });
    expect(await refusedWith(bench.ask('point.withdraw', { runId, eventId, reason: 'Again' }))).toMatchObject({
      code: 'not-found',
    });
    const run = await bench.run();
    expect(run.points.map(({ withdrawn }) => withdrawn)).toEqual(['Clamp was open']);
    expect([run.soFar, run.waitingFor]).toEqual([null, 'No point is kept yet.']);
    expect(await refusedWith(bench.ask('result.keep', { runId }))).toMatchObject({ code: 'no-run' });
  });

  it('trips on too many amps after the inrush, records on, and is marked for good', async () => {
    await bench.open(mains);
    await bench.setUp('no-load', ['primary-volts', 'line-amps'], noLoadAnswers);
    await bench.live();
    // Inrush: recorded, no trip.
    await bench.type({ 'primary-volts': '229', 'line-amps': '9' });
    expect((await bench.state()).kind).toBe('live');
    bench.clock.pass(3000);
    await bench.type({ 'line-amps': '1.3' });
    const tripped = await bench.state();
    expect([tripped.kind, tripped.trip]).toMatchObject(['tripped', { code: 'limit', channel: 'line-amps' }]);
    await bench.type({ 'line-amps': '1.2', 'primary-volts': '228' });
    await bench.powerOff();
    expect((await bench.end()).ending).toBe('tripped');
    const view = await bench.ask('run.history', {
      runId: (await bench.run()).run.runId,
      channel: 'line-amps',
      fromMs: 0,
      toMs: 1e6,
      pixels: 100,
    });
    expect(view.readings).toBe(3);
  });

  it('trips when its time is over, and when a steady line falls away in a heat run', async () => {
    await bench.open(mains);
    await bench.setUp('no-load', ['primary-volts', 'line-amps'], noLoadAnswers);
    await bench.live();
    for (const _half of [1, 2]) {
      bench.clock.pass(59_000);
      await bench.type({ 'primary-volts': '230', 'line-amps': '0.5' });
    }
    expect((await bench.state()).kind).toBe('live');
    bench.clock.pass(3000);
    expect((await bench.state()).trip).toEqual({ code: 'run-time', limitSeconds: 120 });
    await bench.powerOff();
    await bench.end();
    const answers = { insulationClass: 'B', byResistance: 'no', turnsAdded: 'no', expectedAmps: 0.6 };
    await bench.setUp('heat-run', ['primary-volts', 'line-amps', 'core-temperature'], answers);
    await bench.live();
    await bench.type({ 'primary-volts': '229' });
    await bench.type({ 'primary-volts': '0' });
    expect((await bench.state()).kind).toBe('live');
    await bench.type({ 'primary-volts': '206' });
    expect((await bench.state()).trip).toMatchObject({ code: 'limit', bound: 'min', limit: 207 });
  });

  it('is refused with turns added and nothing expected, and ticks the expectation itself', async () => {
    await bench.open(mains);
    const channel = ['primary-volts', 'line-amps'];
    expect(await refusedWith(bench.setUp('no-load', channel, { turnsAdded: 'yes' }))).toMatchObject({
      code: 'bad-input',
      path: 'answers.expectedAmps',
    });
    expect(await refusedWith(bench.setUp('no-load', channel, {}))).toMatchObject({ path: 'answers.turnsAdded' });
    await bench.setUp('no-load', channel, { turnsAdded: 'yes', expectedAmps: 1.4 });
    expect((await bench.state()).checks).toMatchObject({ 'n-exp': { how: 'program' }, 'n-type': { how: 'program' } });
  });
});

it('takes a sweep by temporary turns: each point carries its count', async () => {
  await bench.open(variable);
  const answers = { turnsAdded: 'no', temporaryTurns: 'yes', expectedAmps: 0.8 };
  await bench.setUp('no-load-sweep', ['primary-volts', 'line-amps'], answers);
  expect((await bench.state()).checks).toMatchObject({ 's-count': { how: 'program' } });
  await bench.live();
  bench.clock.pass(3000);
  for (const [turns, amps] of [
    [260, '0.31'],
    [245, '0.42'],
    [230, '0.61'],
  ] as const) {
    await bench.type({ 'primary-volts': '230', 'line-amps': amps });
    expect(await refusedWith(bench.keep())).toMatchObject({ path: 'fields.turns' });
    await bench.keep({ turns });
  }
  const { points, soFar } = await bench.run();
  expect(points.map(({ fields }) => fields)).toEqual([{ turns: 260 }, { turns: 245 }, { turns: 230 }]);
  const { curve, predictions } = results(soFar, 'excitation');
  expect(curve.length).toBe(3);
  // More turns take current out.
  expect(predictions[0]?.addedTurns).toBe(0);
  expect(predictions.at(-1)?.amps.value).toBeLessThan(predictions[0]?.amps.value ?? 0);
});

it('plays a published heat run as a meter, and comes to the published result', async () => {
  // Theraja, A Textbook of Electrical Technology, vol. III, Ex. 45.14 p. 1809: a rise from 20 K towards 85 K with 2.4 h,
  // at 25 °C ambient.
  await bench.open(mains);
  const channels = ['primary-volts', 'line-amps', 'core-temperature', 'ambient'];
  const answers = { insulationClass: 'F', byResistance: 'no', turnsAdded: 'no', expectedAmps: 0.6 };
  await bench.setUp('heat-run', channels, answers);
  await bench.live();
  expect((await bench.run()).waitingFor).toMatch(/three readings/);
  const hour = 3_600_000;
  const stepMs = hour / 15;
  for (let hours = 0; hours <= 5; hours += 1 / 15) {
    const celsius = 25 + 85 - 65 * Math.exp(-hours / 2.4);
    await bench.type({
      'core-temperature': celsius.toFixed(2),
      ambient: '25',
      'primary-volts': '230',
      'line-amps': '0.6',
    });
    bench.clock.pass(stepMs);
  }
  expect((await bench.state()).kind).toBe('live');
  const found = results((await bench.run()).soFar, 'heat-run');
  expect(found.finalCelsius.value).toBeCloseTo(110, 1);
  expect(found.finalRise?.value).toBeCloseTo(85, 1);
  expect(found.timeConstant.value / 3600).toBeCloseTo(2.4, 2);
  await bench.powerOff();
  bench.clock.pass(1000);
  // The tail is kept, and does not change what the run came to.
  await bench.type({ 'core-temperature': '60' });
  expect(results((await bench.run()).soFar, 'heat-run').finalRise?.value).toBeCloseTo(85, 1);
  const { runId } = (await bench.run()).run;
  await bench.end();
  const kept = await bench.ask('result.keep', { runId });
  expect(kept.calculation).toBe('heat-run');
});

describe('a heat run', () => {
  const channels = ['primary-volts', 'line-amps', 'core-temperature'];
  const answers = { insulationClass: 'unknown', byResistance: 'no', turnsAdded: 'no', expectedAmps: 0.6 };

  it('warns, then trips at its temperature, and names the rise when that is too fast', async () => {
    await bench.open(mains);
    await bench.setUp('heat-run', channels, answers);
    await bench.live();
    await bench.type({ 'core-temperature': '74' });
    bench.clock.pass(61_000);
    await bench.type({ 'core-temperature': '76' });
    const warned = await bench.state();
    expect([warned.kind, warned.alarms.map(({ code }) => code)]).toEqual(['live', ['warn']]);
    bench.clock.pass(61_000);
    await bench.type({ 'core-temperature': '83' });
    expect((await bench.state()).trip).toMatchObject({ code: 'rise', channel: 'core-temperature' });
  });

  it('reminds of typed values, calls at twice the time and trips at four times', async () => {
    await bench.open(mains);
    await bench.setUp('heat-run', channels, answers);
    await bench.live();
    await bench.type({ 'core-temperature': '21', 'primary-volts': '230', 'line-amps': '0.6' });
    bench.clock.pass(301_000);
    expect(bench.pushes.filter((push) => push.kind === 'alarm' && push.code === 'remind')).toHaveLength(3);
    bench.clock.pass(300_000);
    expect((await bench.state()).alarms.map(({ code }) => code)).toEqual(['typed-late', 'typed-late', 'typed-late']);
    bench.clock.pass(600_000);
    expect((await bench.state()).trip).toMatchObject({ code: 'silence', source: 'typed' });
  });

  it('that cannot carry a fit says so and what to do', async () => {
    await bench.open(mains);
    await bench.setUp('heat-run', channels, answers);
    await bench.live();
    for (const celsius of ['21.0', '22.0', '23.0', '24.0']) {
      await bench.type({ 'core-temperature': celsius });
      bench.clock.pass(60_000);
    }
    expect((await bench.run()).soFar).toMatchObject({
      ok: false,
      error: { code: 'not-determined', message: expect.stringMatching(/go on with the run/) as string },
    });
  });
});

it('finds the winding at switch-off from its cooling, the plug out and the volts seen to fall', async () => {
  await bench.open(mains);
  const answers = { insulationClass: 'F' };
  await bench.setUp('cooling', ['primary-volts', 'cooling-ohms', 'ambient'], answers);
  await bench.live();
  await bench.type({ 'primary-volts': '230', ambient: '20' });
  bench.clock.pass(60_000);
  expect(await refusedWith(bench.type({ 'cooling-ohms': '2.5' }))).toMatchObject({ code: 'guard-refused' });
  await bench.type({ 'primary-volts': '230' });
  await bench.powerOff();
  expect(await refusedWith(bench.type({ 'cooling-ohms': '2.5' }))).toMatchObject({ code: 'guard-refused' });
  bench.clock.pass(2000);
  await tell(bench.ask, { kind: 'check-confirmed', checkId: 'pd-plug' });
  // The guard sees the fall; nothing of an energised circuit is recorded any more.
  await refusedWith(bench.type({ 'primary-volts': '0.1' }));
  bench.clock.pass(18_000);
  // Copper from 2 Ω at 20 °C: 2.6 Ω at switch-off is 96.35 °C (IEC 60076-2), cooling towards the room with 600 s.
  for (let seconds = 20; seconds <= 620; seconds += 30) {
    await bench.type({ 'cooling-ohms': (2 + 0.6 * Math.exp(-seconds / 600)).toFixed(4) });
    bench.clock.pass(30_000);
  }
  const run = await bench.run();
  expect(results(run.soFar, 'cooling').atSwitchOff.value).toBeCloseTo(2.6, 2);
  expect(results(run.besides[0], 'temperature-by-resistance').hotCelsius.value).toBeCloseTo(96.35, 0);
});

it('takes a loaded run with the sag of the line out of it', async () => {
  await bench.open(mains);
  const answers = {
    plannedAmps: 5,
    faultAmps: 90,
    insulationClass: 'B',
    paralleled: 'no',
    outputOver50: 'no',
  };
  await bench.setUp('loaded-run', ['secondary-volts', 'secondary-amps', 'primary-volts'], answers);
  await bench.live();
  bench.clock.pass(3000);
  // 24 V behind 0.2 Ω; the line sags by 1 V a step, and the output with it.
  for (const [amps, line] of [
    [0.1, 230],
    [2.5, 229],
    [5, 228],
  ] as const) {
    await bench.type({
      'secondary-amps': String(amps),
      'secondary-volts': ((24 - 0.2 * amps) * (line / 230)).toFixed(4),
      'primary-volts': String(line),
    });
    await bench.keep();
  }
  const found = results((await bench.run()).soFar, 'loaded-run');
  expect(found.openCircuitVolts.value).toBeCloseTo(24, 2);
  expect(found.outputResistance.value).toBeCloseTo(0.2, 3);
});

it('takes a short-circuit test, and with an earlier no-load point the whole circuit', async () => {
  await bench.open(variable);
  await bench.setUp('no-load', ['primary-volts', 'line-amps', 'watts'], noLoadAnswers);
  const first = await bench.live();
  bench.clock.pass(3000);
  await bench.type({ 'primary-volts': '230', 'line-amps': '0.5', watts: '40' });
  await bench.keep();
  await bench.ask('result.keep', { runId: first });
  await bench.powerOff();
  await bench.end();
  const answers = { shortedWindingId: bench.windings.secondary, side: 'high', ratedAmps: 1.5 };
  await bench.setUp('short-circuit', ['primary-volts', 'line-amps', 'watts'], answers);
  await bench.live();
  bench.clock.pass(3000);
  await bench.type({ 'primary-volts': '12', 'line-amps': '1.2', watts: '11' });
  await bench.keep();
  const run = await bench.run();
  expect(results(run.soFar, 'short-circuit').impedance.value).toBeCloseTo(10, 9);
  const whole = results(run.besides[0], 'equivalent-circuit');
  expect(whole.equivalentResistance.value).toBeCloseTo(11 / 1.44, 6);
  expect(whole.coreLossResistance.value).toBeGreaterThan(1000);
});

describe('what is read on a dead winding', () => {
  it('takes four wires in both polarities, magnetises the core and puts the ohms on the winding', async () => {
    await bench.open(mains);
    const windingId = bench.windings.secondary;
    await bench.setUp('winding-resistance', ['winding-volts', 'test-amps'], {
      windingId,
      celsius: 21,
      sourceOverTenMilliamps: 'yes',
      underTwoOhm: 'yes',
    });
    const runId = await bench.begin();
    expect(await refusedWith(bench.type({ 'test-amps': '1.5' }))).toMatchObject({ code: 'guard-refused' });
    await bench.prove();
    await bench.type({ 'winding-volts': '0.01830', 'test-amps': '1.500' });
    expect(await refusedWith(bench.keep({}))).toMatchObject({ path: 'fields.polarity' });
    await bench.keep({ polarity: 'forward' });
    await bench.type({ 'winding-volts': '0.01810', 'test-amps': '1.500' });
    await bench.keep({ polarity: 'reversed' });
    const found = results((await bench.run()).soFar, 'four-wire-resistance');
    expect(found.ohms.value).toBeCloseTo(0.0182 / 1.5, 9);
    expect(found.thermoVolts?.value).toBeCloseTo(0.0001, 9);
    expect((await bench.state()).coreMagnetised).toBe(true);
    const { resultId } = await bench.ask('result.keep', { runId });
    await bench.ask('result.apply', { resultId, windingId });
    const { builds } = await bench.ask('core.get', { coreId: bench.coreId });
    const winding = builds[0]?.windings.find((one) => one.windingId === windingId);
    expect(winding?.fields).toMatchObject({
      ohms: { value: expect.closeTo(0.012133, 6) as number },
      ohmsCelsius: 21,
    });
  });

  it('takes two wires as a check only under 2 ohm', async () => {
    await bench.open(mains);
    await bench.setUp('winding-resistance', ['winding-ohms'], {
      windingId: bench.windings.primary,
      celsius: 21,
      sourceOverTenMilliamps: 'no',
      underTwoOhm: 'no',
    });
    await bench.begin();
    await bench.prove();
    await bench.type({ 'winding-ohms': '1.90' });
    expect(await refusedWith(bench.keep({ polarity: 'forward' }))).toMatchObject({ path: 'fields.polarity' });
    await bench.keep();
    expect((await bench.run()).soFar).toMatchObject({ ok: false, error: { code: 'outside-validity' } });
    await bench.type({ 'winding-ohms': '2.35' });
    await bench.keep({ leadOhms: 0.2 });
    expect(results((await bench.run()).soFar, 'two-wire-resistance').ohms.value).toBeCloseTo(2.15, 9);
  });

  it('holds insulation against the figure that was chosen, pair by pair', async () => {
    await bench.open(mains);
    await bench.setUp('insulation-resistance', ['insulation-ohms']);
    await bench.begin();
    await bench.prove();
    const fields = { testVolts: 500, minimumMegohms: 5, basis: 'own choice', oneEndOnCore: 'no' };
    await bench.type({ 'insulation-ohms': '120 MΩ' });
    await bench.keep({ ...fields, between: 'Primary and core' });
    await bench.type({ 'insulation-ohms': '2 MΩ' });
    await bench.keep({ ...fields, between: 'Secondary and core' });
    const run = await bench.run();
    expect(results(run.soFar, 'insulation-resistance').verdict).toBe('not-met');
    expect(results(run.besides[0], 'insulation-resistance').verdict).toBe('met');
  });
});

describe('one meter that is moved', () => {
  /** The same typed meter on every channel. */
  async function oneMeter(procedure: string, channels: readonly string[], answers = {}) {
    await bench.setUp('no-load', ['primary-volts', 'line-amps'], noLoadAnswers);
    const meterId = (await bench.ask('meter.list', {}))[0]?.meterId ?? 0;
    const choices = channels.map((channel) => ({ channel, meterId, lockedRange: null }));
    await bench.ask('bench.set-up', { procedure, channels: choices, answers });
  }

  it('makes a polarity point of three readings', async () => {
    await bench.open(lowSource);
    const channels = ['first-volts', 'second-volts', 'joined-volts'];
    await oneMeter('polarity', channels);
    await tell(bench.ask, { kind: 'check-confirmed', checkId: 'pd-plug' });
    await tell(bench.ask, { kind: 'plug-out-proved' });
    await bench.prove().catch(() => undefined);
    await bench.begin();
    await bench.powerOn();
    for (const [channel, text] of [
      ['first-volts', '12.00'],
      ['second-volts', '1.25'],
      ['joined-volts', '13.24'],
    ] as const) {
      await bench.type({ [channel]: text });
      const { point } = await bench.keep();
      expect(point === null).toBe(channel !== 'joined-volts');
    }
    expect(results((await bench.run()).soFar, 'polarity').polarity).toBe('aiding');
  });

  it('finds watts from three currents of one clamp', async () => {
    await bench.open(mains);
    const answers = { turnsAdded: 'no', resistorOhms: 60, resistorPercent: 1 };
    await oneMeter('watts-three-ammeters', ['total-amps', 'resistor-amps', 'load-amps'], answers);
    await bench.live();
    bench.clock.pass(3000);
    // 230 V, 60 Ω in the resistor; 0.5 A at cos φ 0.348 in the core: 40 W by the cosine rule.
    const resistor = 230 / 60;
    const total = Math.sqrt(resistor ** 2 + 0.5 ** 2 + (2 * 40 * resistor) / 230);
    for (const [channel, amps] of [
      ['total-amps', total],
      ['resistor-amps', resistor],
      ['load-amps', 0.5],
    ] as const) {
      await bench.type({ [channel]: amps.toFixed(4) });
      await bench.keep();
    }
    expect(results((await bench.run()).soFar, 'power-without-wattmeter').watts.value).toBeCloseTo(40, 0);
  });
});

it('finds watts from how fast the iron warms, and from an energy counter', async () => {
  await bench.open(mains);
  const answers = { turnsAdded: 'no', ironKg: 4, copperKg: 1, expectedAmps: 0.8 };
  await bench.setUp('watts-heat-slope', ['primary-volts', 'line-amps', 'core-temperature'], answers);
  await bench.live();
  for (const celsius of ['20.0', '21.6', '23.2']) {
    await bench.type({ 'core-temperature': celsius, 'primary-volts': '230', 'line-amps': '0.5' });
    bench.clock.pass(60_000);
  }
  // (4 x 460 + 1 x 385) J/K x 1.6 K / 60 s, by hand.
  expect(results((await bench.run()).soFar, 'power-without-wattmeter').watts.value).toBeCloseTo(59.3, 1);
  await bench.powerOff();
  await bench.end();
  const counting = { turnsAdded: 'no', expectedAmps: 0.8 };
  await bench.setUp('watts-energy-counter', ['primary-volts', 'line-amps'], counting);
  await bench.live();
  bench.clock.pass(3000);
  await bench.type({ 'primary-volts': '230', 'line-amps': '0.5' });
  await bench.keep({ seconds: 7200, kilowattHours: 0.08, step: 0.01 });
  expect(results((await bench.run()).soFar, 'power-without-wattmeter').watts.value).toBeCloseTo(40, 6);
});

describe('a set-up while a run is open', () => {
  it('may be given again, and takes a meter that came later', async () => {
    await bench.open(mains);
    await bench.setUp('no-load', ['primary-volts', 'line-amps'], noLoadAnswers);
    const runId = await bench.begin();
    const { setup } = await bench.ask('app.present', {});
    if (setup === null) throw new Error('Nothing is set up.');
    await tell(bench.ask, { kind: 'changed', what: ['meter'] });
    expect((await bench.state()).checks['b-rate']).toBeUndefined();
    await bench.ask('bench.set-up', setup);
    expect((await bench.state()).checks['b-rate']).toBeDefined();
    const meter = await bench.ask('meter.save', { description: typedMeter('Came later') });
    const channels = [...setup.channels, { channel: 'ambient', meterId: meter.meterId, lockedRange: null }];
    await bench.ask('bench.set-up', { ...setup, channels });
    await bench.type({ ambient: '20.5' });
    bench.clock.pass(200);
    const { run } = await bench.run();
    expect(run.channels.map(({ channel }) => channel)).toEqual(['primary-volts', 'line-amps', 'ambient']);
    const view = await bench.ask('run.history', { runId, channel: 'ambient', fromMs: 0, toMs: 1e6, pixels: 10 });
    expect(view.readings).toBe(1);
    const moved = setup.channels.map((one) => ({ ...one, meterId: meter.meterId }));
    expect(await refusedWith(bench.ask('bench.set-up', { ...setup, channels: moved }))).toMatchObject({
      code: 'run-open',
    });
  });
});
