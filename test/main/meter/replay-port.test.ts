import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Link } from '../../../src-main/meter/link.ts';
import { replayPort, type RecordedPiece } from '../../../src-main/meter/replay-port.ts';
import { heardInWords } from '../../../src-shared/meter/heard-line.ts';
import { serialMeter } from '../../shared/meter/describe.ts';
import { fakeClock } from './fake-clock.ts';
import { until } from './until.ts';

/** An invented recording: `ms<tab>bytes as hexadecimal`, cut where the port had cut them. */
const recording: readonly RecordedPiece[] = readFileSync(
  join(import.meta.dirname, '../../fixtures/meter/recorded-evening.tsv'),
  'utf8',
)
  .trim()
  .split('\n')
  .map((row) => {
    const [afterMs = '', hex = ''] = row.split('\t');
    return { afterMs: Number(afterMs), bytes: Buffer.from(hex, 'hex') };
  });

it('plays a recording at its own times through the link of every meter', async () => {
  const clock = fakeClock();
  const heard: string[] = [];
  const at: number[] = [];
  const link = new Link({
    meterId: 1,
    meter: serialMeter({ format: { grammar: 'generic', encoding: 'latin-1', decimal: 'comma' } }),
    origin: 'meter',
    newPort: () => replayPort(recording, clock),
    clock,
    onReading: ({ atMs }) => at.push(atMs - 1000),
    onStatus: () => undefined,
    onHeard: (line) => heard.push(heardInWords(line)),
  });
  link.start();
  await until(() => clock.waiting === 2, 'the port open');
  for (let step = 0; step < 300; step += 1) {
    clock.advance(10);
    await new Promise((resolve) => setImmediate(resolve));
  }
  expect(heard).toEqual([
    'The end of a line that had begun before the port was open, or the beginning of one that was cut off.',
    '19.24 V ac',
    '19.25 V ac',
    'Bytes that are no text. Is this the rate of the meter, and its encoding?',
    'overload V ac',
    'The meter shows dashes: it has no value at this moment.',
    '21.5 °C',
    'A point stands inside the number, but this meter is described with a decimal comma.',
  ]);
  expect(at).toEqual([500, 1000, 2000, 2250, 2500, 2800]);
  await link.stop();
});
