import { afterEach } from 'vitest';
import { openPages } from './browser.ts';

// A wait that ran out says what it waited for. What was on the page instead says why.
afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  for (const page of openPages) {
    const shown = await page
      .locator('body')
      .innerText({ timeout: 5000 })
      .catch((error: unknown) => `not to be read: ${String(error)}`);
    console.error(`${task.name}\n${page.url().replace(/^.*#/, '#')} showed:\n${shown}\n`);
  }
});
