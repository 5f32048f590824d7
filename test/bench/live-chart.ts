import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as rest } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { CDPSession, Page } from 'playwright-core';
import { done } from '../../src-shared/contract/failure.ts';
import { openBrowser, openPage } from '../e2e/browser.ts';
import { openBenchStore } from './long-run.ts';
import type { BenchRow } from './row.ts';
import { readingEveryMs, SimulatedRun } from './simulated-run.ts';

const hourMs = 3_600_000;
const eightHoursMs = 8 * hourMs;
/** So much of the run goes by in one step of the simulation. */
const stepMs = 12_000;
const framesForMs = 12_000;
const memoryGoalMb = 20;
/** Times what a frame of a page at rest takes: on a busy machine that is long itself. */
const frameGoal = 2;

/** Runs the simulation behind the local host, with its run at the bench in the browser and the chart made large. */
async function withPage<T>(work: (sim: SimulatedRun, page: Page, session: CDPSession) => Promise<T>): Promise<T> {
  const cache = join(import.meta.dirname, '..', '..', 'node_modules', '.cache');
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'bench-live-'));
  let wall = Date.UTC(2031, 2, 14, 9);
  const store = await openBenchStore(folder, () => (wall += 1));
  const sim = new SimulatedRun(store);
  const { runLocal } = await import('../../src-main/host/run-local.ts');
  const services = await sim.services();
  const running = await runLocal({
    chosen: { port: 0, folder },
    create: () => done({ services, subscribe: sim.subscribe, close: () => Promise.resolve() }),
    pages: join(import.meta.dirname, '..', '..', 'out', 'renderer'),
    log: (line) => {
      console.error(line);
    },
    checkReplies: false,
  });
  if (!running.ok) throw new Error(running.failure.message);
  const browser = await openBrowser();
  try {
    sim.go(60_000, false);
    const { page, context } = await openPage(browser, running.value.url);
    await page.evaluate(() => {
      location.hash = '#/bench';
    });
    await page.getByRole('button', { name: 'Large chart' }).click();
    const chart = page.getByRole('region', { name: 'Chart of the run' });
    await chart.locator('.plot canvas').first().waitFor();
    return await work(sim, page, await context.newCDPSession(page));
  } finally {
    await browser.close();
    await running.value.close();
    store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Megabytes of this process and of the page that are in use after everything unused was let go. */
async function inUse(session: CDPSession): Promise<{ program: number; page: number }> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const { heapUsed, external } = process.memoryUsage();
  return { program: (heapUsed + external) / 1e6, page: usedSize / 1e6 };
}

async function memoryRows(): Promise<BenchRow[]> {
  return withPage(async (sim, page, session) => {
    const goTo = async (untilMs: number) => {
      while (sim.nowMs < untilMs) {
        sim.go(stepMs, true);
        await rest(10);
      }
      await page.waitForTimeout(1500);
    };
    // After half an hour everything that is kept a while is full.
    await goTo(hourMs / 2);
    const before = await inUse(session);
    await goTo(eightHoursMs);
    const after = await inUse(session);
    const row = (name: string, grown: number): BenchRow => ({
      name,
      value: grown,
      unit: 'MB',
      baseline: null,
      ratio: null,
      goal: memoryGoalMb,
      holds: grown <= memoryGoalMb,
    });
    return [
      row('live: growth of the page over eight hours of eight channels at 10 a second', after.page - before.page),
      row('live: growth of the program over the same', after.program - before.program),
    ];
  });
}

/** Milliseconds from one frame to the next while `during` goes on, sorted. */
async function frameTimes(page: Page, during: () => Promise<void>): Promise<readonly number[]> {
  await page.evaluate(() => {
    const frames: number[] = [];
    Object.assign(window, { frames });
    let last = performance.now();
    const look = (now: number) => {
      frames.push(now - last);
      last = now;
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await during();
  const frames = await page.evaluate(() => (window as unknown as { frames: number[] }).frames.slice(2));
  return frames.toSorted((one, other) => one - other);
}

async function frameRow(): Promise<BenchRow> {
  return withPage(async (sim, page) => {
    // An hour is there already, so that the drawing is as full as it gets.
    for (let minute = 0; minute < 60; minute += 1) sim.go(60_000, false);
    sim.go(readingEveryMs, true);
    await page.waitForTimeout(2000);
    const p99 = (frames: readonly number[]) => frames[Math.floor(frames.length * 0.99)] ?? Number.NaN;
    const idle = p99(await frameTimes(page, () => rest(framesForMs / 2)));
    const live = p99(
      await frameTimes(page, async () => {
        const until = performance.now() + framesForMs;
        while (performance.now() < until) {
          sim.go(readingEveryMs, true);
          await rest(readingEveryMs);
        }
      }),
    );
    return {
      name: 'live: frame of the bench with its chart of eight channels at 10 a second, p99, against that page at rest',
      value: live,
      unit: 'ms',
      baseline: idle,
      ratio: live / idle,
      goal: frameGoal,
      holds: live / idle <= frameGoal,
    };
  });
}

/** The live chart in the browser: how long its frames take, and what a long run costs in memory. */
export async function liveRows(): Promise<BenchRow[]> {
  return [await frameRow(), ...(await memoryRows())];
}
