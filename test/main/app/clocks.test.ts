import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { tell } from '../../walk.ts';
import { practisedHeatRun } from './practised-heat-run.ts';
import { mains, refusedWith, Workbench } from './workbench.ts';

const hourMs = 3_600_000;

let bench: Workbench;
beforeEach(async () => {
  bench = new Workbench();
  await bench.open(mains);
  await bench.setUp('no-load', ['primary-volts', 'line-amps'], { turnsAdded: 'no', expectedAmps: 0.8 });
  await bench.live();
  bench.clock.pass(3000);
  await bench.type({ 'primary-volts': '230', 'line-amps': '0.5' });
});
afterEach(() => bench.close());

const guard = async () => (await bench.ask('app.present', {})).guard.state;
const told = async () => {
  const { runId } = (await bench.run()).run;
  return (await bench.ask('run.facts', { runId })).happenings.map(({ text }) => text);
};

describe.each([
  ['forward', hourMs],
  ['back', -hourMs],
])('the computer’s time set an hour %s in a run', (way, byMs) => {
  it('changes nothing of the bench, and the run says so', async () => {
    bench.clock.setBy(byMs);
    bench.clock.pass(300);
    expect(await guard()).toMatchObject({ kind: 'live' });
    expect(await told()).toContainEqual(expect.stringMatching(`^The computer’s time was set 60 min ${way}\\.`));
  });

  it('leaves the readings where they were in the run', async () => {
    bench.clock.setBy(byMs);
    bench.clock.pass(2000);
    await bench.type({ 'primary-volts': '231' });
    const { runId } = (await bench.run()).run;
    const view = { runId, channel: 'primary-volts', fromMs: 0, toMs: 1e7, pixels: 100 };
    const { atMs } = await bench.ask('run.history', view);
    expect((atMs.at(-1) ?? NaN) - (atMs[0] ?? NaN)).toBe(2000);
  });
});

describe('a computer that sleeps in a run', () => {
  it('trips it: nothing watched', async () => {
    bench.clock.sleep(hourMs);
    bench.clock.pass(300);
    expect(await guard()).toMatchObject({ kind: 'tripped' });
    const all = await told();
    expect(all.join()).toContain('The computer slept, or held this program still, for 60 min with power declared on');
    expect(all.join()).not.toContain('time was set');
  });
});

it('keeps no value that was typed long before, though the computer slept nearly all of that time', async () => {
  await bench.powerOff();
  await bench.end();
  await bench.setUp('winding-resistance', ['winding-ohms'], {
    windingId: bench.windings.primary,
    celsius: 21,
    sourceOverTenMilliamps: 'no',
    underTwoOhm: 'no',
  });
  await bench.begin();
  await bench.prove();
  await bench.type({ 'winding-ohms': '2.05' });
  bench.clock.sleep(hourMs);
  bench.clock.pass(300);
  expect(await refusedWith(bench.keep())).toMatchObject({ code: 'not-settled' });
  expect(bench.pushes.findLast((push) => push.kind === 'meter')).toMatchObject({
    meter: { channel: 'winding-ohms', settling: { isSettled: false } },
  });
  await bench.prove();
  await bench.type({ 'winding-ohms': '2.06' });
  expect((await bench.keep()).kept).toMatchObject([{ value: 2.06 }]);
});

it('holds no silence against its meters when the program itself was held up in a run', async () => {
  await bench.powerOff();
  await bench.ask('run.end', { runId: (await bench.run()).run.runId });
  await bench.ask('session.end', {});
  await practisedHeatRun(bench.ask, bench.clock);
  const { limits } = await guard();
  if (limits === null) throw new Error('No limits are set.');
  const channels = limits.channels.map((one) => ({ ...one }));
  await tell(bench.ask, { kind: 'limits-set', limits: { ...limits, channels, silenceSeconds: 5 }, reason: null });
  // With the half second between two lines this is more than the 5 s that a meter may be silent.
  for (let round = 0; round < 10; round += 1) {
    bench.clock.pass(2000 + 50 * round);
    bench.clock.holdUp(4900);
  }
  bench.clock.pass(1000);
  expect(await guard()).toMatchObject({ kind: 'live', alarms: [] });
});
