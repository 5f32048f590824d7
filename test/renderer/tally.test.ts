import { describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { done, failed } from '../../src-shared/contract/failure.ts';
import type { RequestValue } from '../../src-shared/contract/request.ts';
import { oneLess, oneMore, spokenAt, toldAt } from '../../src-renderer/page/tally/tally-words.ts';
import { cutter, sheetParts } from '../shared/report/plan-fixture.ts';
import { FakeProgram } from './fake-program.ts';
import { inputsOf, showPage } from './show-page.ts';

const fan = {
  ...cutter,
  key: 'b',
  label: 'Fan',
  turns: 4.5,
  taps: [],
  layers: [{ turns: 4.5, fromMm: 13, depthMm: 1 }],
};

/** A program with one plan of two outputs, which keeps every mark. */
function counting(turns = 0, addedTurns = 0) {
  localStorage.clear();
  const program = new FakeProgram();
  const { version } = sheetParts({}, { outputs: [cutter, fan], addedTurns });
  const marks: RequestValue<'tally.get'> = turns === 0 ? [] : [{ output: 'a', turns, wallMs: 1 }];
  program.instead['plan.get'] = () => done({ planId: 3, buildId: 2, versions: [{ ...version, stale: [] }] });
  program.instead['tally.get'] = () =>
    done(marks.filter((mark, index) => marks.findLastIndex(({ output }) => output === mark.output) === index));
  program.instead['tally.mark'] = ({ output, turns: total }) => {
    const mark = { output, turns: total, wallMs: marks.length };
    marks.push(mark);
    program.push({ kind: 'changed', what: 'tally', id: 3 });
    return done(mark);
  };
  const totals = () => inputsOf(program, 'tally.mark').map((input) => (input as { turns: number }).turns);
  return { program, totals };
}
const bigKey = page.getByRole('button', { name: /^Count one turn/ });
const shown = () => document.querySelector('[data-shown]')?.textContent;
const told = () => document.querySelector('[data-told]')?.textContent.trim();

describe('counting turns', () => {
  test('takes every press once, by key, by click and however quick, and stores each in order', async () => {
    const { program, totals } = counting();
    await showPage(program, '#/tally/3');
    await expect.element(bigKey).toHaveFocus();
    for (let press = 0; press < 4; press += 1) {
      for (const type of ['keydown', 'keyup']) {
        bigKey.element().dispatchEvent(new KeyboardEvent(type, { key: ' ', bubbles: true, cancelable: true }));
      }
    }
    await userEvent.keyboard('{Enter} ');
    await bigKey.click();
    await expect.poll(totals).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(shown()).toBe('7');
    await expect.element(bigKey).toHaveAccessibleName('Count one turn: 7 of 25 so far');
    // Held down, a key types on and on.
    for (const repeat of [false, true, true]) {
      window.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', repeat }));
    }
    await expect.poll(totals).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
  });

  test('goes on where it was, takes one back, and gives the focus to the count again', async () => {
    const { program, totals } = counting(12);
    await showPage(program, '#/tally/3');
    await expect.poll(shown).toBe('12');
    expect(told()).toBe('In 1 turn: tap “12 V”.');
    await page.getByRole('button', { name: /^Take one back/ }).click();
    await expect.element(bigKey).toHaveFocus();
    await userEvent.keyboard(' {Backspace}  ');
    await expect.poll(totals).toEqual([11, 12, 11, 12, 13]);
    expect(told()).toBe('Now: Tap “12 V” out.');
  });

  test('counts nothing while it is paused, says so, and is still paused when the page is loaded again', async () => {
    const { program, totals } = counting(3);
    await showPage(program, '#/tally/3');
    await expect.element(bigKey).toBeVisible();
    await userEvent.keyboard('{Escape} ');
    await expect.poll(told).toBe('Paused: that press was not counted. Go on first.');
    expect(totals()).toEqual([]);
    const again = new FakeProgram();
    Object.assign(again.instead, program.instead);
    document.querySelector('#app')?.remove();
    await showPage(again, '#/tally/3');
    await page.getByRole('button', { name: /^Go on/ }).click();
    await userEvent.keyboard(' ');
    await expect.poll(() => inputsOf(again, 'tally.mark').length).toBe(1);
  });

  test('keeps presses while the program is gone or refuses, and stores them in order afterwards', async () => {
    const { program, totals } = counting(5);
    const workshop = await showPage(program, '#/tally/3');
    await expect.poll(shown).toBe('5');
    program.isReachable = false;
    program.lose();
    await expect.poll(() => workshop.connection.isOpen).toBe(false);
    const fromMs = Date.now();
    await userEvent.keyboard('   ');
    await expect.element(page.getByText(/3 presses wait here/)).toBeVisible();
    const toMs = Date.now();
    expect(localStorage.getItem('turnwright.tally.3')).toContain('"turns":8');
    program.isReachable = true;
    workshop.connection.tryNow();
    await expect.poll(totals).toEqual([6, 7, 8]);
    // Each with the time at which it was pressed, not that at which it could be stored.
    const pressed = inputsOf(program, 'tally.mark').map((input) => (input as { pressedWallMs: number }).pressedWallMs);
    expect(pressed).toEqual(pressed.toSorted((one, other) => one - other));
    expect(Math.min(...pressed)).toBeGreaterThanOrEqual(fromMs);
    expect(Math.max(...pressed)).toBeLessThanOrEqual(toMs);
    expect(localStorage.getItem('turnwright.tally.3')).toBeNull();
    const store = program.instead['tally.mark'];
    program.instead['tally.mark'] = () => failed('disk-full', 'The disk is full.');
    await userEvent.keyboard(' ');
    await expect.element(page.getByText(/The disk is full\. The count stays here/)).toBeVisible();
    if (store !== undefined) program.instead['tally.mark'] = store;
    await page.getByRole('button', { name: 'Store it now' }).click();
    await expect.poll(() => totals().at(-1)).toBe(9);
    await expect.element(page.getByText(/Not stored/)).not.toBeInTheDocument();
    expect(shown()).toBe('9');
  });

  test('stores what another page had to leave behind, when it comes to that plan', async () => {
    const { program, totals } = counting(5);
    localStorage.setItem(
      'turnwright.tally.3',
      JSON.stringify([6, 7].map((turns) => ({ output: 'a', turns, pressedWallMs: 1000 + turns }))),
    );
    await showPage(program, '#/tally/3');
    await expect.poll(totals).toEqual([6, 7]);
    expect(inputsOf(program, 'tally.mark')).toMatchObject([{ pressedWallMs: 1006 }, { pressedWallMs: 1007 }]);
    await expect.poll(shown).toBe('7');
    expect(localStorage.getItem('turnwright.tally.3')).toBeNull();
  });

  test('goes by the layers, from one output to the next, to its half turn, and to a count that is set by hand', async () => {
    const { program, totals } = counting(16);
    await showPage(program, '#/tally/3');
    await userEvent.keyboard(' ');
    await expect.poll(told).toBe('Now: Layer 1 is full: insulate, begin layer 2.');
    await userEvent.keyboard(' ');
    await expect.poll(() => bigKey.element().textContent).toContain('of 25 · layer 2 of 2, 1 of 8');
    await page.getByRole('button', { name: 'Set the count' }).click();
    await page.getByLabelText(/^Turns so far/).fill('7.3');
    await page.getByRole('button', { name: 'Set it' }).click();
    await expect.element(page.getByText('Turns so far must be whole or half turns.')).toBeVisible();
    await page.getByLabelText(/^Turns so far/).fill('25');
    await page.getByRole('button', { name: 'Set it' }).click();
    await expect.poll(totals).toEqual([17, 18, 25]);
    await expect.poll(told).toBe('Now: All turns are on.');
    await page.getByRole('link', { name: /^Fan/ }).click();
    await expect.element(page.getByRole('heading', { name: 'Fan' })).toBeVisible();
    await userEvent.keyboard('     ');
    await expect.poll(shown).toBe('4.5');
  });

  test('counts the turns that are added to the primary before the outputs, which lie over them', async () => {
    const { program } = counting(0, 2.5);
    await showPage(program, '#/tally/3');
    await expect.element(page.getByRole('heading', { name: 'Added primary turns' })).toBeVisible();
    expect(bigKey.element().textContent).toContain('of 2.5 · 2.5 to go');
    await userEvent.keyboard('   ');
    await expect.poll(told).toBe('Now: All turns are on.');
    await expect
      .poll(() => inputsOf(program, 'tally.mark'))
      .toMatchObject([1, 2, 2.5].map((turns) => ({ output: 'primary', turns })));
    await page.getByRole('link', { name: /^Cutter/ }).click();
    await expect.element(page.getByRole('heading', { name: 'Cutter' })).toBeVisible();
  });

  test('learns the key of a foot switch, which never means anything else', async () => {
    const { program, totals } = counting();
    await showPage(program, '#/tally/3');
    await userEvent.keyboard('b');
    await page.getByRole('button', { name: 'Foot switch' }).click();
    await userEvent.keyboard('b');
    await expect.element(page.getByRole('button', { name: 'Foot switch: b' })).toBeVisible();
    await userEvent.keyboard('b');
    await page.getByRole('radio', { name: 'Spoken' }).click({ force: true });
    await userEvent.keyboard('b ');
    await expect.poll(totals).toEqual([1, 2, 3]);
  });
});

test('a half turn is the last press, and comes off first', () => {
  expect([0, 3, 4, 4.5].map((counted) => oneMore(fan, counted))).toEqual([1, 4, 4.5, 5.5]);
  expect([5.5, 4.5, 4, 0].map((counted) => oneLess(fan, counted))).toEqual([4.5, 4, 3, 0]);
});

test('what is to be done is said three turns before it comes, and when it is there', () => {
  expect([0, 9, 10, 13, 14, 25, 26].map((counted) => toldAt(cutter, counted))).toEqual([
    { kind: 'later', text: 'In 13 turns: tap “12 V”.' },
    { kind: 'later', text: 'In 4 turns: tap “12 V”.' },
    { kind: 'soon', text: 'In 3 turns: tap “12 V”.' },
    { kind: 'now', text: 'Now: Tap “12 V” out.' },
    { kind: 'soon', text: 'In 3 turns: end of the layer.' },
    { kind: 'now', text: 'Now: All turns are on.' },
    { kind: 'over', text: '1 turn more than planned.' },
  ]);
  expect(spokenAt(cutter, 5, false)).toBeNull();
  expect(spokenAt(cutter, 5, true)).toBe('5');
  expect(spokenAt(cutter, 13, false)).toBe('13. Now: Tap “12 V” out.');
});
