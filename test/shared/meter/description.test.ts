import { describe, expect, it } from 'vitest';
import { readDescription } from '../../../src-shared/meter/description.ts';
import { baudRates, usualPortSettings } from '../../../src-shared/meter/port-settings.ts';
import { serialMeter } from './describe.ts';

const refusalsOf = (input: unknown): readonly { path: string; message: string }[] => {
  const read = readDescription(input);
  return read.ok ? [] : read.refusals;
};

const withPort = (port: object) => {
  const meter = serialMeter();
  return { ...meter, port: { ...meter.port, ...port } };
};

describe('a meter description', () => {
  it('is accepted as it was written', () => {
    const meter = serialMeter();
    expect(readDescription(JSON.parse(JSON.stringify(meter)))).toEqual({ ok: true, description: meter });
  });

  it('is accepted at every usual rate', () => {
    for (const baudRate of baudRates) expect(refusalsOf(withPort({ baudRate }))).toEqual([]);
  });

  it('names the field, its place and what would be accepted', () => {
    expect(refusalsOf(withPort({ baudRate: 9601 }))).toEqual([
      {
        path: 'port.baudRate',
        message:
          'Baud rate must be one of 300, 600, 1200, 2400, 4800, 9600, 14400, 19200, 38400, 57600, 115200, 230400, 460800, 921600.',
      },
    ]);
    expect(refusalsOf({ ...serialMeter(), maxVolts: Number.POSITIVE_INFINITY })).toEqual([
      { path: 'maxVolts', message: 'Highest rated volts must be a number from 1 to 10000 V.' },
    ]);
    expect(refusalsOf({ ...serialMeter(), label: '  ' })).toEqual([
      { path: 'label', message: 'Label must be text of 1 to 60 characters.' },
    ]);
  });

  it('tells everything that is wrong at once', () => {
    const meter = { ...serialMeter(), responding: 'peak', linkIsolated: 'perhaps', typicalIntervalMs: 0 };
    expect(refusalsOf(meter).map(({ path }) => path)).toEqual(['responding', 'typicalIntervalMs', 'linkIsolated']);
  });

  it('says which field is missing, and which is not known', () => {
    const { label: _, ...withoutLabel } = serialMeter();
    expect(refusalsOf(withoutLabel)).toEqual([{ path: 'label', message: 'Meter needs the field "label".' }]);
    expect(refusalsOf({ ...serialMeter(), colour: 'red' })).toEqual([
      { path: 'colour', message: 'Meter has no field "colour".' },
    ]);
    expect(refusalsOf({ ...serialMeter(), port: 3 })).toEqual([
      { path: 'port', message: 'Port settings must be a group of fields, not 3.' },
    ]);
    expect(refusalsOf({ kind: 'clamp' })).toEqual([
      { path: 'kind', message: 'Kind of meter must be serial, keyboard or practice.' },
    ]);
  });

  it('refuses a range that is listed twice or coarser than its top', () => {
    const [range] = serialMeter().ranges;
    expect(refusalsOf({ ...serialMeter(), ranges: [range, range] })[0]?.message).toBe(
      'Ranges: each unit, coupling and top only once.',
    );
    expect(refusalsOf({ ...serialMeter(), ranges: [{ ...range, resolution: 7 }] })[0]?.message).toBe(
      'Resolution of a range must be smaller than its top.',
    );
  });

  it('needs no port from a meter whose values are typed', () => {
    const { label, responding, ranges, scales, maxVolts, category, typicalIntervalMs } = serialMeter();
    const common = { label, responding, ranges, scales, maxVolts, category, typicalIntervalMs };
    expect(refusalsOf({ kind: 'keyboard', ...common })).toEqual([]);
    expect(refusalsOf({ kind: 'keyboard', ...common, port: { path: 'x', ...usualPortSettings } })).toHaveLength(1);
    expect(refusalsOf({ kind: 'practice', ...common, unit: 'V', coupling: 'ac' })).toEqual([]);
  });

  it('describes a meter that answers when asked, its commands printable', () => {
    const talk = { mode: 'ask', query: 'READ?', intervalMs: 500, timeoutMs: 300, opening: ['*IDN?'], lineEnd: 'lf' };
    expect(refusalsOf({ ...serialMeter(), talk })).toEqual([]);
    expect(refusalsOf({ ...serialMeter(), talk: { ...talk, query: 'READ?\n' } })).toEqual([
      { path: 'talk.query', message: 'Query must be 1 to 120 printable characters of ASCII.' },
    ]);
    expect(refusalsOf({ ...serialMeter(), talk: { mode: 'shout' } })).toEqual([
      { path: 'talk.mode', message: 'Talk: the mode must be listen or ask.' },
    ]);
  });
});
