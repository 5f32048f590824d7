import type { Page } from 'playwright-core';

/** How many stops of the Tab key a page has at most. */
const mostStops = 150;
/** A page that is still on its way is gone through again. */
const patienceMs = 20_000;

/** Somebody without a mouse: everything by Tab, arrows, Space, Enter and letters. */
export class Keys {
  readonly #page: Page;

  constructor(page: Page) {
    this.#page = page;
  }

  press(...keys: readonly string[]): Promise<void> {
    return keys.reduce((before, key) => before.then(() => this.#page.keyboard.press(key)), Promise.resolve());
  }

  type(text: string): Promise<void> {
    return this.#page.keyboard.type(text);
  }

  /** What has the focus, by its name. */
  focused(): Promise<string> {
    return this.#page.evaluate(() => {
      const at = document.activeElement;
      if (!(at instanceof HTMLElement)) return '';
      const labels = 'labels' in at && at.labels instanceof NodeList ? [...at.labels] : [];
      const group = at instanceof HTMLInputElement && at.type === 'radio' ? at.closest('fieldset')?.textContent : '';
      // What only holds others, such as the page itself, is not named by all that is in it.
      const own = /^(A|BUTTON|SUMMARY)$/.test(at.tagName) ? at.textContent : '';
      const texts = [at.getAttribute('aria-label'), ...labels.map(({ textContent }) => textContent), group, own];
      return texts.join(' ').replace(/\s+/g, ' ').trim();
    });
  }

  /** Goes on with Tab until what is named has the focus. */
  async to(name: RegExp): Promise<void> {
    const until = performance.now() + patienceMs;
    for (let stop = 0; stop < mostStops || performance.now() < until; stop += 1) {
      if (name.test(await this.focused())) return;
      await this.press('Tab');
    }
    throw new Error(`Nothing named ${String(name)} can be reached with the Tab key.`);
  }

  /** Goes to a box, empties it and types. */
  async fill(name: RegExp, text: string): Promise<void> {
    await this.to(name);
    await this.press('Control+A');
    await this.type(text);
  }

  /** Goes to a list of choices and takes the one so many below the first, once it is there. */
  async pick(name: RegExp, below: number): Promise<void> {
    await this.to(name);
    await this.#page.waitForFunction((index) => {
      const at = document.activeElement;
      return !(at instanceof HTMLSelectElement) || at.options.length > index;
    }, below);
    await this.press('Home', ...Array.from({ length: below }, () => 'ArrowDown'));
  }

  /** Goes to a group of choices and moves to the one whose own words fit. */
  async choose(group: RegExp, option: RegExp): Promise<void> {
    await this.to(group);
    for (let moved = 0; moved < mostStops; moved += 1) {
      const own = await this.#page.evaluate(() => {
        const at = document.activeElement;
        return at instanceof HTMLInputElement ? (at.labels?.[0]?.textContent ?? '').replace(/\s+/g, ' ').trim() : '';
      });
      if (option.test(own)) return this.press('Space');
      await this.press('ArrowDown');
    }
    throw new Error(`No choice ${String(option)} in ${String(group)}.`);
  }

  /** Presses what is named. */
  async act(name: RegExp): Promise<void> {
    await this.to(name);
    await this.press('Enter');
  }

  /** Ticks every open line of the checks, in their order. */
  async tickAll(list: string): Promise<void> {
    await this.#page.getByRole('list', { name: list, exact: true }).waitFor();
    const open = this.#page.locator(`ol[aria-label="${list}"] input:not(:checked):not(:disabled)`);
    for (let left = await open.count(); left > 0; left = await open.count()) {
      const id = await open.first().getAttribute('aria-describedby');
      for (let stop = 0; stop < mostStops; stop += 1) {
        const at = await this.#page.evaluate(() => document.activeElement?.getAttribute('aria-describedby'));
        if (at === id) break;
        await this.press('Tab');
      }
      await this.press('Space');
      await this.#page.waitForFunction(
        ([name, was]) =>
          document.querySelectorAll(`ol[aria-label="${name}"] input:not(:checked):not(:disabled)`).length < Number(was),
        [list, String(left)],
      );
    }
  }

  /** The three lines before a proof. */
  async tickBeforeProof(): Promise<void> {
    await this.#page.getByRole('heading', { name: 'Prove dead' }).first().waitFor();
    for (const line of [/The plug is out/, /No charged capacitor/, /Meter and leads whole/]) {
      await this.to(line);
      await this.press('Space');
      await this.#page.getByRole('checkbox', { name: line, checked: true }).first().waitFor();
    }
  }

  /** The whole proof with a two-pole indicator: lights, nothing on every part of the circuit, lights. */
  async proveDead(): Promise<void> {
    await this.tickBeforeProof();
    await this.choose(/Proved with/, /Two-pole indicator/);
    await this.fill(/^Indicator/, 'Two-pole indicator');
    await this.fill(/Rated for/, '690');
    await this.act(/^Begin the proof$/);
    await this.#page.getByRole('heading', { name: 'Step 1 of' }).waitFor();
    const count = await this.#page.getByRole('list', { name: 'Steps of the proof' }).getByRole('listitem').count();
    for (let step = 0; step < count; step += 1) {
      await this.#page.getByRole('heading', { name: `Step ${step + 1} of` }).waitFor();
      await this.press(step === 0 || step === count - 1 ? 'l' : 'n');
    }
  }
}
