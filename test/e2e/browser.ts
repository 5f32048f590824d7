import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { browserFlags, findBrowser } from '../browser.ts';

/** The installed browser, started once for a file of tests. */
export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: findBrowser(), args: [...browserFlags], headless: true });

/** How long a walk waits for what must come, in ms: a machine may be busy, and how fast it is is not what a walk is about. */
export const patienceMs = 60_000;

export interface Look {
  readonly theme: 'light' | 'dark';
  readonly width: number;
  readonly height: number;
}

export const looks: readonly Look[] = [
  { theme: 'light', width: 1280, height: 800 },
  { theme: 'dark', width: 1280, height: 800 },
  { theme: 'light', width: 1024, height: 700 },
  { theme: 'dark', width: 1024, height: 700 },
];

/** Both themes and both sizes, each once: what one of them shows wrong the other pair would show again. */
export const looksOnce: readonly Look[] = looks.filter(({ theme }, index) => index < 2 === (theme === 'light'));

/** The pages that are open, for what they show to be told where a test fails. */
export const openPages = new Set<Page>();

/** A page of its own, in a theme and a size. Everything it says on its console as an error is kept in `errors`. */
export async function openPage(
  browser: Browser,
  url: string,
  look: Look = { theme: 'light', width: 1280, height: 800 },
): Promise<{ page: Page; context: BrowserContext; errors: string[] }> {
  const context = await browser.newContext({
    viewport: { width: look.width, height: look.height },
    colorScheme: look.theme,
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(patienceMs);
  openPages.add(page);
  page.once('close', () => openPages.delete(page));
  const errors: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(error.message));
  await page.goto(url);
  return { page, context, errors };
}
