import { afterEach, beforeEach, expect, it } from 'vitest';
import { conditionsOf } from '../../../src-shared/report/conditions.ts';
import { timeWords } from '../../../src-shared/report/time-words.ts';
import { mains, refusedWith, Workbench } from './workbench.ts';

let bench: Workbench;

beforeEach(async () => {
  bench = new Workbench();
  await bench.open(mains);
});
afterEach(() => bench.close());

it('puts right what was said of a session, with what stood before and the reason in the conditions of its runs', async () => {
  await bench.setUp('no-load', ['primary-volts', 'line-amps'], { turnsAdded: 'no' });
  const runId = await bench.live();
  const { session } = await bench.run();
  const { sessionId, fields } = session;
  const correct = (more: object, reason = 'mistyped') =>
    bench.ask('session.correct', { sessionId, reason, fields: { ...fields, ...more } });
  // Not what feeds it while it is on; who measured, and the room, at any time.
  const supply = { ...fields.supply, fuseAmps: 10 };
  expect((await refusedWith(correct({ supply }))).message).toMatch(/Switch off/);
  await correct({ ambientCelsius: 22.5 }, 'the thermometer lay in the sun');
  await bench.powerOff();
  await correct({ ambientCelsius: 22.5, who: 'Sorrel', supply });
  // Another fuse stands behind the limit of the amps: the guard is told, and checks that rest on the supply lapse.
  expect((await bench.state()).bench?.supply.fuseAmps).toBe(10);
  expect((await refusedWith(correct({ buildId: 99 }))).message).toBeDefined();

  const facts = await bench.ask('run.facts', { runId });
  const corrected = conditionsOf(facts, timeWords('UTC')).filter(({ name }) => name === 'Corrected');
  expect(corrected.map(({ text }) => text.slice(text.indexOf(': ') + 2))).toEqual([
    'ambient 22.5 °C, was 20 °C. Why: the thermometer lay in the sun',
    expect.stringMatching(/^supply .*fuse 10 A, was .*fuse 6 A; measured by Sorrel, was Rowan\. Why: mistyped$/),
  ]);
  expect([facts.session.fields.who, facts.saidOfSession.length]).toEqual(['Sorrel', 3]);
});
