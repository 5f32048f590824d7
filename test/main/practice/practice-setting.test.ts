import { describe, expect, it } from 'vitest';
import { PracticeSetting } from '../../../src-main/practice/practice-setting.ts';
import { controlsAtFirst } from '../../../src-shared/practice/controls.ts';
import { hideableFaults, usualSizes } from '../../../src-shared/practice/fault.ts';
import { PracticeTruth } from '../../../src-shared/practice/truth.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import * as v from 'valibot';

interface Written {
  readonly runId: number;
  readonly kind: string;
  readonly body: unknown;
}

function setting(seed = 1, leftBefore?: unknown) {
  const written: Written[] = [];
  const left: unknown[] = [leftBefore];
  const state = { nowMs: 0, run: null as number | null };
  const generator = seededGenerator(seed);
  const made = new PracticeSetting({
    nowMs: () => state.nowMs,
    lot: () => generator,
    openRun: () => state.run,
    record: (runId, kind, body) => (runId === null ? left.push(body) : written.push({ runId, kind, body })),
    left: () => left.at(-1),
  });
  return { made, state, written, left: () => left.at(-1) };
}
const truthOf = ({ body }: Written) => v.parse(PracticeTruth, body);

describe('a hidden fault', () => {
  it('lies in the bench, is not told, and its truth goes into every run', () => {
    const { made, state, written } = setting();
    made.hide();
    expect(made.hiding).toEqual({ kind: 'hidden' });
    expect(made.controls.fault).toBe('none');
    expect(made.lying.fault).not.toBe('none');
    expect(written).toEqual([]);
    state.run = 7;
    made.runBegan();
    expect(written.map(({ runId, kind }) => [runId, kind])).toEqual([[7, 'practice-bench']]);
    const [first] = written.map(truthOf);
    expect(first).toMatchObject({ fault: made.lying.fault, sizes: made.lying.sizes, isHidden: true });
    expect(first?.text).toBe('Practice bench: one fault is hidden in it.');
  });

  it('is told once when asked, in every run that it lay in, and stays until it is mended', () => {
    const { made, state, written } = setting(3);
    made.hide();
    for (const run of [7, 8]) {
      state.run = run;
      made.runBegan();
    }
    state.run = null;
    made.tell();
    made.tell();
    const told = written.filter(({ kind }) => kind === 'practice-told');
    expect(told.map(({ runId }) => runId)).toEqual([7, 8]);
    expect(made.hiding).toMatchObject({ kind: 'told', fault: made.lying.fault });
    made.mend();
    expect(made.lying).toEqual({ fault: 'none', sizes: usualSizes });
  });

  it('is still there, and can be told of the runs that it lay in, after the program was started again', () => {
    const { made, state, left } = setting(5);
    made.set({ ...controlsAtFirst, addedTurns: 20 });
    made.hide();
    state.run = 7;
    made.runBegan();
    const next = setting(6, JSON.parse(JSON.stringify(left())));
    expect(next.made.hiding).toEqual({ kind: 'hidden' });
    expect(next.made.lying).toEqual(made.lying);
    expect(next.made.controls).toEqual(made.controls);
    next.made.tell();
    expect(next.written.map(({ runId, kind }) => [runId, kind])).toEqual([[7, 'practice-told']]);
    expect(setting(7, next.left()).made.hiding).toEqual(next.made.hiding);
    next.made.mend();
    expect(setting(8, next.left()).made.hiding).toEqual({ kind: 'nothing' });
    // Whatever is written there that is no setting is no setting.
    expect(setting(9, { controls: 'none' }).made.controls).toEqual(controlsAtFirst);
  });

  it('is any of them in time, opposed turns only where there are some', () => {
    const { made } = setting(11);
    const drawn = new Set<string>();
    const many = () => {
      for (let index = 0; index < 300; index += 1) {
        made.hide();
        drawn.add(made.lying.fault);
      }
    };
    many();
    expect([...hideableFaults].filter((fault) => !drawn.has(fault))).toEqual(['opposed-turns']);
    made.set({ ...controlsAtFirst, addedTurns: 20 });
    many();
    expect(drawn.size).toBe(hideableFaults.length);
  });

  it('gives way to one that is chosen, and outlasts everything else that is set', () => {
    const { made } = setting();
    made.hide();
    made.set({ ...made.controls, loadOhms: 2 });
    expect(made.hiding).toEqual({ kind: 'hidden' });
    made.set({ ...made.controls, fault: 'hot-joint' });
    expect(made.lying).toEqual({ fault: 'hot-joint', sizes: usualSizes });
    expect(made.hiding).toEqual({ kind: 'nothing' });
  });
});

it('writes what was set in the midst of a run, in words, and not each touch of the knob', () => {
  const { made, state, written } = setting();
  state.run = 4;
  made.set({ ...controlsAtFirst, supplyPercent: 60 });
  made.set({ ...controlsAtFirst, supplyPercent: 60, loadOhms: 1.5, source: 'soft', fault: 'hot-joint' });
  expect(written.map((one) => truthOf(one).text)).toEqual([
    'Practice bench: soft source; load 1.5 Ω; fault: A loose lug on the output, 30 mΩ.',
  ]);
});

it('lets the meters go quiet after their minutes, and wakes them by a press', () => {
  const { made, state } = setting();
  state.nowMs = 3_600_000;
  expect(made.isQuiet(state.nowMs)).toBe(false);
  made.set({ ...controlsAtFirst, autoOff: 2 });
  expect(made.isQuiet(state.nowMs + 119_000)).toBe(false);
  state.nowMs += 121_000;
  expect(made.isQuiet(state.nowMs)).toBe(true);
  made.press();
  expect(made.isQuiet(state.nowMs)).toBe(false);
});
