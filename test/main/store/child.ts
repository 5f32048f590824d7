import { writeSync } from 'node:fs';
import { openStore } from '../../../src-main/store/open-store.ts';
import { furnished, reading, started, value, wallClock } from './furnish.ts';

/** A program of its own for the tests, made to be killed: opens the record and says on each line what it has done. */
const [what = '', folder = ''] = process.argv.slice(2);
const say = (line: string) => writeSync(1, `${line}\n`);

const opened = openStore(folder, { wallNow: wallClock(), programVersion: '0.1.0' });
if (!opened.ok) {
  say(`refused ${opened.failure.code}`);
  process.exit(1);
}
const store = opened.value;
say('held');

if (what === 'hold') setInterval(() => undefined, 60_000);

if (what === 'write') {
  const run = started(store, furnished(store));
  say(`run ${run.runId}`);
  for (let index = 0; ;) {
    const readings = Array.from({ length: 50 }, () => {
      index += 1;
      return reading(store, run, index * 5, index % 1000, { channel: index % 2 });
    });
    const event = {
      eventId: store.events.nextId(),
      sessionId: null,
      runId: run.runId,
      wallMs: 1,
      monoMs: index,
      kind: 'guard',
      body: { kind: 'live', revision: index },
    };
    say(`trying ${index}`);
    value(store.readings.writeBatch({ readings, events: [event] }));
    say(`written ${index}`);
  }
}
