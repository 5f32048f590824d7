import { describe, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { done, failed } from '../../src-shared/contract/failure.ts';
import { FakeProgram } from './fake-program.ts';
import { guardStates } from './guard-states.ts';
import { dimmerCore } from './shelf-fixture.ts';
import { inputsOf, showPage } from './show-page.ts';

const commandsOf = (program: FakeProgram): unknown[] =>
  inputsOf(program, 'guard.send').map((input) =>
    typeof input === 'object' && input !== null && 'command' in input ? input.command : null,
  );
const state = (word: string) => page.getByRole('status').filter({ hasText: new RegExp(`^${word}$`) });
const hold = page.getByRole('button', { name: 'Power on: hold' });

function focusHold(): void {
  const node = hold.element();
  if (node instanceof HTMLElement) node.focus();
}

describe('power on, held to confirm', () => {
  test('begins when pressed and confirms when it was held for a second, and no sooner', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.ready;
    await showPage(program, '#/shelf');
    await expect.element(hold).toBeVisible();
    focusHold();
    const pressedAt = performance.now();
    await userEvent.keyboard('{Enter>}');
    await expect.element(page.getByRole('button', { name: 'Hands off, everyone clear, power on now.' })).toBeVisible();
    expect(commandsOf(program)).toEqual([{ kind: 'power-on-begun' }]);
    await expect.element(state('Live')).toBeVisible();
    expect(performance.now() - pressedAt).toBeGreaterThan(1000);
    await userEvent.keyboard('{/Enter}');
    expect(commandsOf(program)).toEqual([{ kind: 'power-on-begun' }, { kind: 'power-on-confirmed' }]);
    const [begun, confirmed] = inputsOf(program, 'guard.send');
    expect(confirmed).toMatchObject({ revision: 1 });
    expect(begun).toMatchObject({ revision: 0 });
  });

  test('lets go when released early', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.ready;
    await showPage(program, '#/shelf');
    await expect.element(hold).toBeVisible();
    focusHold();
    await userEvent.keyboard('{ >}');
    await expect.poll(() => commandsOf(program).length).toBe(1);
    await userEvent.keyboard('{/ }');
    await expect.poll(() => commandsOf(program)).toEqual([{ kind: 'power-on-begun' }, { kind: 'power-on-let-go' }]);
    await new Promise((resolve) => setTimeout(resolve, 1300));
    expect(commandsOf(program)).toHaveLength(2);
    await expect.element(state('Ready')).toBeVisible();
  });

  test('lets go when the window loses the keyboard', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.ready;
    await showPage(program, '#/shelf');
    await expect.element(hold).toBeVisible();
    focusHold();
    await userEvent.keyboard('{Enter>}');
    await expect.poll(() => commandsOf(program).length).toBe(1);
    window.dispatchEvent(new Event('blur'));
    await expect.poll(() => commandsOf(program)).toEqual([{ kind: 'power-on-begun' }, { kind: 'power-on-let-go' }]);
    await userEvent.keyboard('{/Enter}');
  });

  test('does not fill when the guard refuses to begin, and says why', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.ready;
    program.instead['guard.send'] = () =>
      failed('guard-refused', 'Not ready: 1 thing is missing. The list says which.');
    await showPage(program, '#/shelf');
    await expect.element(hold).toBeVisible();
    focusHold();
    await userEvent.keyboard('{Enter>}');
    await expect.element(page.getByText(/Not ready: 1 thing is missing/)).toBeVisible();
    await userEvent.keyboard('{/Enter}');
    await new Promise((resolve) => setTimeout(resolve, 1300));
    expect(commandsOf(program)).toEqual([{ kind: 'power-on-begun' }]);
  });
});

describe('F8, power is off', () => {
  test('works from inside a text field and leaves the text alone', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.live;
    await showPage(program, '#/core/new');
    await page.getByLabelText('Label', { exact: true }).fill('Half a lab');
    await userEvent.keyboard('{F8}');
    await expect.element(state('Proving')).toBeVisible();
    expect(commandsOf(program)).toEqual([{ kind: 'power-off' }]);
    await expect.element(page.getByLabelText('Label', { exact: true })).toHaveValue('Half a lab');
  });

  test('works from inside a dialog, which carries the control along', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.live;
    const coreId = program.addCore(dimmerCore);
    await showPage(program, `#/core/${coreId}`);
    await page.getByRole('button', { name: 'Add a winding' }).click();
    await expect.element(page.getByRole('dialog').getByRole('button', { name: /Power is off/ })).toBeVisible();
    await userEvent.keyboard('{F8}');
    await expect.element(state('Proving')).toBeInTheDocument();
  });

  test('is passed on once the program is back when it was pressed without a connection', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.live;
    await showPage(program, '#/shelf');
    await expect.element(state('Live')).toBeVisible();
    program.isReachable = false;
    program.lose();
    await expect.element(page.getByText('Connection to the program lost')).toBeVisible();
    await expect.element(page.getByText('Switch off at the plug', { exact: true })).toBeVisible();
    await userEvent.keyboard('{F8}');
    expect(commandsOf(program)).toEqual([]);
    await expect.element(page.getByText(/Your F8 is kept/)).toBeVisible();
    program.isReachable = true;
    await expect.element(state('Proving')).toBeVisible();
    expect(commandsOf(program)).toEqual([{ kind: 'power-off' }]);
  });

  test('does not press twice while the key is held down', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.live;
    const answered = vi.fn();
    program.instead['guard.send'] = () => {
      answered();
      return done({ nowMs: program.nowMs, state: program.guard });
    };
    await showPage(program, '#/shelf');
    await expect.element(state('Live')).toBeVisible();
    window.dispatchEvent(new KeyboardEvent('keydown', { key: 'F8' }));
    window.dispatchEvent(new KeyboardEvent('keydown', { key: 'F8', repeat: true }));
    await expect.poll(() => answered.mock.calls.length).toBe(1);
  });
});

describe('the strip', () => {
  test.each([
    ['unproved', 'treat as live until proved dead', 'Prove dead'],
    ['isolated', 'proved dead', 'Ready check'],
    ['ready', 'every check stands', 'Power on: hold'],
    ['live', 'power declared on for', 'Power is off'],
    ['tripped', 'switch off at the plug now', 'Power is off'],
    ['proving', 'declared off, not proved dead', 'Prove dead'],
  ] as const)('says %s, what that means, and the next act', async (kind, under, act) => {
    const program = new FakeProgram();
    program.guard = guardStates[kind];
    await showPage(program, '#/shelf');
    const strip = page.getByRole('banner', { name: 'Bench guard' });
    await expect.element(strip.getByText(new RegExp(under))).toBeVisible();
    const control = strip.getByRole(
      kind === 'unproved' || kind === 'isolated' || kind === 'proving' ? 'link' : 'button',
    );
    await expect.element(control.filter({ hasText: act })).toBeVisible();
  });

  test('P goes to the proof, but not while somebody types', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.unproved;
    await showPage(program, '#/core/new');
    await page.getByLabelText('Label', { exact: true }).fill('');
    await userEvent.keyboard('p');
    await expect.element(page.getByLabelText('Label', { exact: true })).toHaveValue('p');
    expect(location.hash).toBe('#/core/new');
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    await userEvent.keyboard('p');
    await expect.poll(() => location.hash).toBe('#/bench/prove');
  });
});

describe('a command that the bench moved on from', () => {
  const alarms = [{ code: 'clock', atMs: 100_000, heard: false }] as const;
  const tick = { kind: 'check-confirmed', checkId: 'b-help' } as const;

  test('is said again for the person when only an alarm came', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.ready;
    const { guarding } = await showPage(program, '#/shelf');
    await expect.element(hold).toBeVisible();
    program.guard = { ...guardStates.ready, revision: 7, alarms };
    expect(await guarding.send(tick)).toBe(true);
    expect(inputsOf(program, 'guard.send')).toMatchObject([{ revision: 0 }, { revision: 7 }]);
    expect(guarding.refusal).toBeNull();
  });

  test('waits for the person when it brings power on, or the bench asks another thing of them', async () => {
    const program = new FakeProgram();
    program.guard = guardStates.ready;
    const { guarding } = await showPage(program, '#/shelf');
    await expect.element(hold).toBeVisible();
    program.guard = { ...guardStates.ready, revision: 7, alarms };
    expect(await guarding.beginPowerOn()).toBe(false);
    expect(guarding.refusal).toBe('The bench has changed meanwhile. Look again.');
    program.guard = { ...guardStates.ready, revision: 8, coreMagnetised: true };
    expect(await guarding.send(tick)).toBe(false);
    expect(inputsOf(program, 'guard.send')).toMatchObject([{ revision: 0 }, { revision: 7 }]);
  });
});
