import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { systemClock } from '../../src-main/bench/clock.ts';
import { Link } from '../../src-main/meter/link.ts';
import { serialPort } from '../../src-main/meter/meter-port.ts';
import type { HeardLine } from '../../src-shared/meter/heard-line.ts';
import { openPtyPair, type PtyPair } from '../main/meter/pty-pair.ts';
import { until } from '../main/meter/until.ts';
import { settingsFor, watchOpenings } from '../main/meter/wires.ts';
import { serialMeter } from '../shared/meter/describe.ts';

setFlagsFromString('--expose-gc');
const collect: () => void = runInNewContext('gc');

/** Bytes that are held once everything that could be given back was. */
function kept(): number {
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}

let pair: PtyPair;
let link: Link;
let heard: HeardLine[] = [];
let texts: string[] = [];

beforeEach(async () => {
  heard = [];
  texts = [];
  pair = await openPtyPair();
  const watch = watchOpenings();
  const settings = settingsFor(pair.programEnd);
  link = new Link({
    meterId: 1,
    meter: serialMeter({ port: settings }),
    origin: 'meter',
    newPort: () => watch.over(serialPort(settings)),
    clock: systemClock,
    onReading: ({ text }) => texts.push(text),
    onStatus: () => undefined,
    onHeard: (line) => heard.push(line),
  });
  link.start();
  await until(() => watch.opened === 1, 'the port open');
});
afterEach(async () => {
  await link.stop();
  await pair.close();
});

it('takes 100 MB without a line end through a port, keeps its memory, and reads the next line', async () => {
  await pair.write('\n1 V\n');
  await until(() => texts.length === 1, 'a reading before the flood');
  const chunk = Buffer.alloc(1_000_000, 0x55);
  await pair.write(chunk);
  const before = kept();
  let worst = 0;
  for (let sent = 0; sent < 99; sent += 1) {
    await pair.write(chunk);
    if (sent % 9 === 8) worst = Math.max(worst, kept() - before);
  }
  await pair.write('\n118.6 V\n');
  await until(() => texts.length === 2, 'the reading after the flood', 30_000);
  expect(texts).toEqual(['1 V', '118.6 V']);
  expect(heard.filter(({ kind }) => kind === 'dropped')).toMatchObject([{ why: 'too-long' }]);
  expect(worst).toBeLessThan(8e6);
});

it('reads every good line of a stream with garbage, half lines and endless lines between', async () => {
  const garbage = ['\x00\xff\x80\n', `${'#'.repeat(5000)}\n`, '\n\r\n', '\x1b[2J\n', '11\x0b8.6 V\r'];
  const expected: string[] = [];
  let stream = 'alf a line\n';
  for (let index = 0; index < 2000; index += 1) {
    const text = `${(100 + index / 10).toFixed(1)} V AC`;
    expected.push(text);
    stream += `${text}${['\n', '\r\n', '\r'][index % 3] ?? ''}${index % 7 === 0 ? (garbage[index % 5] ?? '') : ''}`;
  }
  const bytes = Buffer.from(stream, 'latin1');
  for (let at = 0; at < bytes.length; at += 997) await pair.write(bytes.subarray(at, at + 997));
  await until(() => texts.length >= expected.length, 'every good line', 30_000);
  expect(texts).toEqual(expected);
});
