import { describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { done } from '../../src-shared/contract/failure.ts';
import { FakeProgram } from './fake-program.ts';
import { guardStates } from './guard-states.ts';
import { dimmerCore } from './shelf-fixture.ts';
import { inputsOf, lasting, showPage } from './show-page.ts';

describe('a connection that breaks', () => {
  test('says so at once, tries again by itself, and says hello with what it saw', async () => {
    const program = new FakeProgram();
    const workshop = await showPage(program, '#/shelf');
    await expect.poll(() => workshop.present.isKnown).toBe(true);
    program.push({ kind: 'changed', what: 'kept', id: null });
    program.isReachable = false;
    program.lose();
    await expect.element(page.getByText('Connection to the program lost')).toBeVisible();
    program.isReachable = true;
    await expect.element(page.getByText('Connection to the program lost')).not.toBeInTheDocument();
    expect(program.hellos.map(({ seen }) => seen)).toEqual([null, { life: 'life-1', sequence: 1 }]);
  });

  test('shows what was missed: alarms of the time away, marked so', async () => {
    const program = new FakeProgram();
    const workshop = await showPage(program, '#/shelf');
    await expect.poll(() => workshop.present.isKnown).toBe(true);
    program.isReachable = false;
    program.lose();
    program.push({ kind: 'alarm', code: 'meter-quiet', sentence: 'Primary volts: its meter was quiet.', atMs: 99_000 });
    program.setGuard(guardStates.tripped);
    program.isReachable = true;
    await expect.element(page.getByText(/Primary volts: its meter was quiet/)).toBeVisible();
    await expect.element(page.getByText(/While this page was away/)).toBeVisible();
    await expect.element(page.getByText('Tripped', { exact: true })).toBeVisible();
    await page.getByRole('button', { name: 'Seen' }).click();
    await expect.element(page.getByText(/Primary volts: its meter was quiet/)).not.toBeInTheDocument();
  });

  test('asks everything afresh from a program that was started anew', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/shelf');
    await expect.element(page.getByText('The shelf is empty.')).toBeVisible();
    program.lose();
    program.life = 'life-2';
    program.addCore(dimmerCore);
    await expect.element(page.getByText('Dimmer core B')).toBeVisible();
  });

  test('answers what was under way with a failure instead of leaving it open', async () => {
    const program = new FakeProgram();
    const workshop = await showPage(program, '#/shelf');
    await expect.poll(() => workshop.connection.isOpen).toBe(true);
    const under = workshop.connection.ask('core.list', {});
    program.isReachable = false;
    program.lose();
    expect(await under).toMatchObject({ ok: false, failure: { code: 'no-connection' } });
    expect(await workshop.connection.ask('core.list', {})).toMatchObject({
      ok: false,
      failure: { code: 'no-connection' },
    });
  });

  test('waits longer from try to try, and not at all when asked to try now', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      const program = new FakeProgram();
      const workshop = await showPage(program, '#/shelf');
      await vi.waitUntil(() => workshop.connection.isOpen);
      program.isReachable = false;
      let opened = 0;
      const { transport } = program;
      const counted = vi.spyOn(program, 'lose');
      program.lose();
      expect(counted).toHaveBeenCalledOnce();
      expect(transport).toBeTypeOf('function');
      const tries = (): number => {
        const { standing } = workshop.connection;
        return standing.kind === 'lost' ? standing.tries : -1;
      };
      expect(tries()).toBe(0);
      for (const waitMs of [250, 500, 1000, 2000]) {
        await vi.advanceTimersByTimeAsync(waitMs - 1);
        expect(tries()).toBe(opened);
        await vi.advanceTimersByTimeAsync(1);
        opened += 1;
        expect(tries()).toBe(opened);
      }
      program.isReachable = true;
      workshop.connection.tryNow();
      await vi.advanceTimersByTimeAsync(0);
      expect(workshop.connection.isOpen).toBe(true);
    } finally {
      vi.useRealTimers();
    }
  });

  test('remembers over a reload what it saw', async () => {
    const memory = lasting();
    const program = new FakeProgram();
    const first = await showPage(program, '#/shelf', memory);
    await expect.poll(() => first.present.isKnown).toBe(true);
    program.push({ kind: 'changed', what: 'kept', id: null });
    window.dispatchEvent(new Event('pagehide'));
    expect(memory.seen()).toEqual({ life: 'life-1', sequence: 1 });
  });
});

describe('what the program says', () => {
  test('that does not fit the contract is refused, not shown', async () => {
    const program = new FakeProgram();
    const workshop = await showPage(program, '#/shelf');
    await expect.poll(() => workshop.connection.isOpen).toBe(true);
    const whole = await workshop.connection.ask('settings.save', { settings: program.settings });
    expect(whole.ok).toBe(true);
    const bad = structuredClone(program.settings);
    Reflect.set(bad, 'units', 'cubits');
    program.instead['settings.save'] = () => done(bad);
    expect(await workshop.connection.ask('settings.save', { settings: program.settings })).toMatchObject({
      ok: false,
      failure: { code: 'bad-message' },
    });
  });

  test('about settings changes the page at once', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/shelf');
    await page.getByRole('button', { name: /^Settings/ }).click();
    await page.getByRole('radio', { name: 'Dark' }).click();
    await page.getByRole('radio', { name: 'in, lb, °F' }).click();
    await page.getByLabelText('Mains volts here').fill('120,5');
    await page.getByRole('radio', { name: '60 Hz' }).click();
    await page.getByRole('button', { name: 'Keep these settings' }).click();
    await expect.element(page.getByRole('button', { name: 'Settings: US units · 60 Hz' })).toBeVisible();
    expect(document.documentElement.dataset['theme']).toBe('dark');
    expect(inputsOf(program, 'settings.save')).toMatchObject([
      { settings: { theme: 'dark', units: 'us', mainsVolts: 120.5, mainsHertz: 60 } },
    ]);
  });

  test('at first start is answered before anything else, with the caution read', async () => {
    const program = new FakeProgram();
    program.settings = { ...program.settings, who: '' };
    await showPage(program, '#/shelf');
    await expect.element(page.getByText(/It cannot switch anything off or make anything dead/)).toBeVisible();
    await page.getByRole('button', { name: /To the shelf/ }).click();
    await expect.element(page.getByText(/Type the name that your records shall carry/)).toBeVisible();
    await page.getByLabelText('Your name').fill('Mira');
    await page.getByRole('button', { name: /To the shelf/ }).click();
    await expect.element(page.getByRole('dialog')).not.toBeInTheDocument();
    expect(program.settings.who).toBe('Mira');
  });
});

describe('what the program tells', () => {
  const alarm = {
    kind: 'alarm',
    code: 'meter-quiet',
    sentence: 'Ambient: its meter has gone quiet.',
    atMs: 99_000,
  } as const;
  const told = page.getByText(/its meter has gone quiet/);

  test('moves nothing under a hand that is pressing, and comes as soon as it lets go', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await expect.element(page.getByRole('button', { name: 'Keep this meter' })).toBeVisible();
    window.dispatchEvent(new PointerEvent('pointerdown'));
    program.push(alarm);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(told.query()).toBeNull();
    window.dispatchEvent(new PointerEvent('pointerup'));
    await expect.element(told).toBeVisible();
  });

  test('takes nothing from a button that slid away between press and release', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    const add = page.getByRole('button', { name: 'Add a range' });
    await expect.element(add).toBeVisible();
    const at = { bubbles: true, clientX: 40, clientY: 40 };
    add.element().dispatchEvent(new PointerEvent('pointerdown', at));
    document.body.dispatchEvent(new PointerEvent('pointerup', { ...at, clientX: 90 }));
    expect(page.getByLabelText('Top of range').query()).toBeNull();
    add.element().dispatchEvent(new PointerEvent('pointerdown', { ...at, button: 2 }));
    document.body.dispatchEvent(new PointerEvent('pointerup', { ...at, button: 2 }));
    expect(page.getByLabelText('Top of range').query()).toBeNull();
    add.element().dispatchEvent(new PointerEvent('pointerdown', at));
    document.body.dispatchEvent(new PointerEvent('pointerup', at));
    await expect.element(page.getByLabelText('Top of range')).toBeVisible();
  });

  test('is not held back by a hand that keeps pressing', async () => {
    const program = new FakeProgram();
    await showPage(program, '#/meters/new');
    await expect.element(page.getByRole('button', { name: 'Keep this meter' })).toBeVisible();
    window.dispatchEvent(new PointerEvent('pointerdown'));
    program.push(alarm);
    await expect.element(told).toBeVisible();
    window.dispatchEvent(new PointerEvent('pointerup'));
  });
});
