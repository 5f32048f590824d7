import { expect, test } from 'vitest';
import { coolingStart, withHeard, type LastOf } from '../../../src-renderer/page/bench/cooling-start.ts';
import type { LastReading } from '../../../src-shared/contract/meter-view.ts';
import { acceptReading } from '../../../src-shared/interlock/accept.ts';
import type { SetUp } from '../../../src-shared/interlock/bench.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { at, channel, mainsSetUp, meter, provingAt } from '../../shared/interlock/scene.ts';

const ohms = channel('cooling-ohms', {
  kind: 'cooling-resistance',
  unit: 'Ω',
  coupling: null,
  onFed: false,
  required: false,
  meter: meter(7),
});
const setUp: SetUp = { ...mainsSetUp, channels: [...mainsSetUp.channels, ohms] };
const fed = mainsSetUp.channels.find(({ onFed, kind }) => onFed && kind === 'energised-volts');

const plain: Omit<LastReading, 'atMs' | 'value' | 'text'> = {
  kind: 'number',
  u: 0.1,
  unit: 'V',
  coupling: 'ac',
  origin: 'meter',
  rangeIndex: null,
  bottomOfRange: false,
};
const off = provingAt(setUp);
const offMs = off.power?.offAtMs ?? NaN;
const plugMs = offMs + 2000;
const plugOut = reduce(off, at(plugMs, { kind: 'check-confirmed', checkId: 'pd-plug' })).state;
const shows =
  (value: number, atMs: number): LastOf =>
  (id) =>
    id === fed?.id ? { ...plain, atMs, value, text: String(value) } : null;

test('a winding that cools waits for the plug, then for the volts, and says which', () => {
  expect(coolingStart(off, shows(0.1, offMs + 500), offMs + 1000)).toMatchObject({
    isPlugOut: false,
    volts: 'not-read',
    mayRead: false,
    sinceOff: 1,
  });
  expect(coolingStart(plugOut, shows(230, plugMs + 200), plugMs + 300)).toMatchObject({
    isPlugOut: true,
    volts: 'there',
    mayRead: false,
    sentence: expect.stringMatching(/230\.0 V, not below 3 V$/) as string,
  });
  // Read before the plug was out: says nothing of now.
  expect(coolingStart(plugOut, shows(0.1, plugMs - 200), plugMs)).toMatchObject({ volts: 'not-read', mayRead: false });
  expect(coolingStart(plugOut, shows(0.1, plugMs + 200), plugMs + 300)).toMatchObject({
    isPlugOut: true,
    volts: 'fallen',
    mayRead: true,
  });
});

test('nothing waits where nobody reads the ohms', () => {
  expect(coolingStart(provingAt(), shows(0, offMs), offMs)).toBeNull();
});

test('what the meters say now decides on the page as it does in the program', () => {
  const taken = (value: number) =>
    acceptReading(withHeard(plugOut, shows(value, plugMs + 200)), 'cooling-resistance').accepted;
  expect([taken(0.1), taken(230)]).toEqual([true, false]);
});
