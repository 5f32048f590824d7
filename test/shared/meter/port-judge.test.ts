import { describe, expect, it } from 'vitest';
import { hearingInWords, isBetter, isHopeless, judgeBytes } from '../../../src-shared/meter/port-judge.ts';
import { receive } from '../../main/meter/uart.ts';
import { bytesOf } from './bytes.ts';

const stream = 'half\r\n118.6 V AC\r\n118.7 V AC\r\nOL V AC\r\n';
const sent = { baudRate: 2400, dataBits: 8, parity: 'none' } as const;

describe('what bytes from a port look like', () => {
  it('is sure of three whole lines with values', () => {
    expect(judgeBytes(bytesOf(stream))).toEqual({
      sureness: 'sure',
      bytes: stream.length,
      lines: 3,
      readable: 3,
      garbled: 0,
      framing: { dataBits: 8, parity: 'none' },
      encoding: 'ascii',
      decimal: 'point',
      sample: ['118.6 V AC', '118.7 V AC', 'OL V AC'],
    });
  });

  it('is less sure of one line, and of text that it cannot read', () => {
    expect(judgeBytes(bytesOf('half\n118.6 V\n'))).toMatchObject({ sureness: 'likely', readable: 1 });
    const text = judgeBytes(bytesOf('a\nMODE;ON\nMODE;ON\nMODE;ON\n'));
    expect(text).toMatchObject({ sureness: 'likely', readable: 0, lines: 3 });
    expect(hearingInWords(text, 9600)).toContain('a pattern is needed');
    expect(judgeBytes(bytesOf('half')).sureness).toBe('unclear');
    expect(judgeBytes(new Uint8Array()).sureness).toBe('nothing');
  });

  it('tells the decimal mark and the encoding', () => {
    expect(judgeBytes(bytesOf('x\n0,987 V\n0,988 V\n0,989 V\n'))).toMatchObject({ sureness: 'sure', decimal: 'comma' });
    expect(judgeBytes(bytesOf('x\n21.4 \xb0C\n21.4 \xb0C\n21.5 \xb0C\n'))).toMatchObject({ encoding: 'latin-1' });
    const utf8 = new TextEncoder().encode('x\n1.2 kΩ\n1.3 kΩ\n1.2 kΩ\n');
    expect(judgeBytes(utf8)).toMatchObject({
      sureness: 'sure',
      encoding: 'utf-8',
      sample: ['1.2 kΩ', '1.3 kΩ', '1.2 kΩ'],
    });
  });

  it.each(['even', 'odd'] as const)('tells seven data bits and %s parity from the top bit', (parity) => {
    const received = receive(bytesOf(stream), { ...sent, dataBits: 7, parity }, 2400);
    expect(judgeBytes(received)).toMatchObject({ sureness: 'sure', framing: { dataBits: 7, parity } });
  });

  it('is never sure at another rate than that of the meter', () => {
    const rates = [300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200];
    const line = bytesOf('118.64 V AC\r\n'.repeat(20));
    for (const meter of rates) {
      for (const receiver of rates) {
        const hearing = judgeBytes(receive(line, { ...sent, baudRate: meter }, receiver));
        expect(`${meter} at ${receiver}: ${hearing.sureness === 'sure'}`).toBe(
          `${meter} at ${receiver}: ${meter === receiver}`,
        );
      }
    }
  });

  it('gives up soon on many bytes without a line, and prefers what is surer', () => {
    expect(isHopeless(judgeBytes(new Uint8Array(200).fill(0)))).toBe(true);
    expect(isHopeless(judgeBytes(bytesOf(stream)))).toBe(false);
    expect(isBetter(judgeBytes(bytesOf(stream)), judgeBytes(bytesOf('a\n1 V\n')))).toBe(true);
    expect(isBetter(judgeBytes(bytesOf('a\n1 V\n')), judgeBytes(bytesOf('a\nx\n')))).toBe(true);
    expect(isBetter(judgeBytes(bytesOf('a\n1 V\n')), judgeBytes(bytesOf('a\n1 V\n')))).toBe(false);
  });
});
