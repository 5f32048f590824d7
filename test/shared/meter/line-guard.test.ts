import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineGuard, type LineGuardOptions } from '../../../src-shared/meter/line-guard.ts';
import { bytesOf, passed, pushCut } from './bytes.ts';

const guard = (more: Partial<LineGuardOptions> = {}) =>
  createLineGuard({ encoding: 'ascii', joinsMidLine: false, ...more });

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('the line guard', () => {
  it('takes LF, CR and CR LF as the end of a line and knows no empty lines', () => {
    expect(passed(guard().push(bytesOf('1 V\n2 V\r\n3 V\r4 V\n\n\r\n5 V\r\n')))).toEqual([
      '1 V',
      '2 V',
      '3 V',
      '4 V',
      '5 V',
    ]);
  });

  it('drops the half line that it joined in the middle of, and only that', () => {
    const joined = guard({ joinsMidLine: true });
    expect(joined.push(bytesOf('8.6 V\r\n118.7 V\r\n'))).toEqual([
      { kind: 'dropped', why: 'partial', text: '8.6 V' },
      { kind: 'line', bytes: bytesOf('118.7 V') },
    ]);
    expect(joined.counts()).toEqual({ lines: 1, tooLong: 0, unprintable: 0, partial: 1 });
  });

  it('keeps the first line when it joined exactly between two', () => {
    expect(passed(guard({ joinsMidLine: true }).push(bytesOf('\n118.7 V\n')))).toEqual(['118.7 V']);
  });

  it('never passes on the unfinished line of a port that was lost', () => {
    const lost = guard();
    expect(passed(lost.push(bytesOf('118.6 V\n118')))).toEqual(['118.6 V']);
    expect(lost.end()).toEqual([{ kind: 'dropped', why: 'partial', text: '118' }]);
    expect(lost.end()).toEqual([]);
  });

  it('passes a line at the cap whole, drops one above it whole, and goes on at the next end', () => {
    const capped = guard({ longest: 8 });
    expect(passed(capped.push(bytesOf('12345678\n123456789\n1234\n')))).toEqual(['12345678', '1234']);
    expect(capped.counts()).toEqual({ lines: 2, tooLong: 1, unprintable: 0, partial: 0 });
  });

  it('says that a line is too long without waiting for its end', () => {
    expect(guard({ longest: 4 }).push(bytesOf('12345'))).toEqual([{ kind: 'dropped', why: 'too-long', text: '1234' }]);
  });

  it('drops and counts a line with a byte that does not print, and shows it', () => {
    const dirty = guard();
    expect(dirty.push(bytesOf('1\x00 V\n2\xb5V\n3\tV\n'))).toEqual([
      { kind: 'dropped', why: 'unprintable', text: '1\\x00 V' },
      { kind: 'dropped', why: 'unprintable', text: '2\\xb5V' },
      { kind: 'line', bytes: bytesOf('3\tV') },
    ]);
    expect(dirty.counts().unprintable).toBe(2);
  });

  it('accepts the signs of a declared encoding and nothing else', () => {
    expect(passed(guard({ encoding: 'latin-1' }).push(bytesOf('21.4 \xb0C\n3\x85\n')))).toEqual(['21.4 \xb0C']);
    const clean = ['21.4 °C', '1.2 kΩ', '3 µA', '−2 V'];
    const read = guard({ encoding: 'utf-8' }).push(utf8(clean.map((line) => `${line}\n`).join('')));
    expect(read).toEqual(clean.map((line) => ({ kind: 'line', bytes: utf8(line) })));
  });

  it('knows well-formed UTF-8 from everything else, as a strict decoder does', () => {
    const strict = (bytes: Uint8Array): boolean => {
      try {
        const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
        return !/[\x00-\x08\x0a-\x1f\x7f-\x9f]/.test(text);
      } catch {
        return false;
      }
    };
    const bytes = fc.oneof(
      fc.uint8Array({ minLength: 1, maxLength: 6 }),
      fc.string({ unit: 'binary', minLength: 1, maxLength: 6 }).map(utf8),
    );
    fc.assert(
      fc.property(bytes, (line) => {
        fc.pre(line.length > 0 && !line.includes(10) && !line.includes(13));
        const out = guard({ encoding: 'utf-8' }).push(Uint8Array.from([...line, 10]));
        expect(out[0]?.kind).toBe(strict(line) ? 'line' : 'dropped');
      }),
      { numRuns: 5000, seed: 7 },
    );
  });

  it('gives the same lines however the bytes are cut', () => {
    const anyBytes = fc.uint8Array({ maxLength: 300 });
    const lines = fc
      .array(fc.oneof(fc.constant(10), fc.constant(13), fc.integer({ min: 32, max: 126 }), fc.nat(255)), {
        maxLength: 300,
      })
      .map((list) => Uint8Array.from(list));
    fc.assert(
      fc.property(fc.oneof(anyBytes, lines), fc.array(fc.nat(1000)), fc.boolean(), (bytes, cuts, joinsMidLine) => {
        const whole = guard({ longest: 12, joinsMidLine });
        const cut = guard({ longest: 12, joinsMidLine });
        expect(pushCut(cut, bytes, cuts)).toEqual(whole.push(bytes));
        expect(cut.end()).toEqual(whole.end());
        expect(cut.counts()).toEqual(whole.counts());
      }),
      { numRuns: 1000, seed: 11 },
    );
  });

  it('reads exactly the good lines, in order, with any garbage between', () => {
    const good = fc.string({
      unit: fc.integer({ min: 0x20, max: 0x7e }).map((code) => String.fromCharCode(code)),
      minLength: 1,
      maxLength: 12,
    });
    const tooLong = fc.uint8Array({ minLength: 13, maxLength: 60 });
    const dirty = fc
      .tuple(fc.uint8Array({ maxLength: 8 }), fc.constantFrom(0, 7, 27, 127, 128, 255))
      .map(([bytes, bad]) => [...bytes, bad]);
    const garbage = fc
      .oneof(tooLong, dirty)
      .map((bytes) => [...bytes].map((byte) => (byte === 10 || byte === 13 ? 0 : byte)));
    const ends = fc.constantFrom([10], [13], [13, 10]);
    const piece = fc.oneof(
      good.map((text) => ({ text, bytes: [...bytesOf(text)] })),
      garbage.map((bytes) => ({ text: undefined, bytes })),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(piece, ends), { maxLength: 30 }), fc.array(fc.nat(2000)), (pieces, cuts) => {
        const bytes = Uint8Array.from(pieces.flatMap(([{ bytes }, end]) => [...bytes, ...end]));
        const expected = pieces.flatMap(([{ text }]) => (text === undefined ? [] : [text]));
        expect(passed(pushCut(guard({ longest: 12 }), bytes, cuts))).toEqual(expected);
      }),
      { numRuns: 1000, seed: 13 },
    );
  });

  it('takes 100 MB without a line end in linear time, holding one line at most', () => {
    const endless = guard({ joinsMidLine: true });
    const chunk = new Uint8Array(65_536).fill(0x55);
    for (let sent = 0; sent < 100e6; sent += chunk.length) endless.push(chunk);
    expect(endless.counts()).toEqual({ lines: 0, tooLong: 1, unprintable: 0, partial: 0 });
    expect(passed(endless.push(bytesOf('\n118.6 V\n')))).toEqual(['118.6 V']);
  });
});
