import { describe, expect, it } from 'vitest';
import { createBacklog, type NumberedPush } from '../../../src-main/host/backlog.ts';

const event = (sequence: number, text = 'e'): NumberedPush => ({ sequence, text, readings: 0 });
const numbers = (pushes: readonly NumberedPush[] | null) => pushes?.map(({ sequence }) => sequence) ?? null;

describe('backlog', () => {
  it('gives what came after a number, and nothing to who saw it all', () => {
    const backlog = createBacklog();
    for (const sequence of [1, 2, 3]) backlog.add(event(sequence));
    expect(numbers(backlog.since(1))).toEqual([2, 3]);
    expect(numbers(backlog.since(0))).toEqual([1, 2, 3]);
    expect(numbers(backlog.since(3))).toEqual([]);
  });

  it('says when what was missed is not all here any more', () => {
    const backlog = createBacklog(3);
    for (let sequence = 1; sequence <= 10; sequence += 1) backlog.add(event(sequence));
    expect(numbers(backlog.since(7))).toEqual([8, 9, 10]);
    expect(backlog.since(6)).toBeNull();
  });

  it('knows no number of another life', () => {
    const backlog = createBacklog();
    backlog.add(event(1));
    expect(backlog.since(2)).toBeNull();
    expect(createBacklog().since(1)).toBeNull();
    expect(createBacklog().since(0)).toEqual([]);
  });

  it('lets the oldest go when the text grows too large, however few they are', () => {
    const backlog = createBacklog(100, 25);
    for (const sequence of [1, 2, 3]) backlog.add(event(sequence, 'x'.repeat(10)));
    expect(backlog.since(0)).toBeNull();
    expect(numbers(backlog.since(1))).toEqual([2, 3]);
  });

  it('keeps readings by their count, not their text', () => {
    const backlog = createBacklog(100, 25);
    backlog.add({ sequence: 1, text: 'x'.repeat(1000), readings: 40 });
    expect(backlog.since(0)).toEqual([{ sequence: 1, text: '', readings: 40 }]);
  });

  it('stays exact over many thousands', () => {
    const backlog = createBacklog(500);
    for (let sequence = 1; sequence <= 20_000; sequence += 1) backlog.add(event(sequence));
    expect(numbers(backlog.since(19_997))).toEqual([19_998, 19_999, 20_000]);
    expect(backlog.since(19_500)).toHaveLength(500);
    expect(backlog.since(19_499)).toBeNull();
  });
});
