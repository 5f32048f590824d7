import type { Locator, Page } from 'playwright-core';
import { Person } from './person.ts';

/** Somebody in front of the bench page with a run in hand. */
export class BenchPage {
  readonly page: Page;
  readonly person: Person;

  constructor(page: Page) {
    this.page = page;
    this.person = new Person(page);
  }

  /** Chooses a procedure, who reads what, and answers what it asks; the program takes it. */
  async setUp(
    title: string,
    meters: Readonly<Record<string, string>>,
    answers: Readonly<Record<string, string>> = {},
  ): Promise<void> {
    const { page, person } = this;
    await this.choose(title);
    const form = page.getByRole('form', { name: 'Who reads what' });
    for (const [channel, meter] of Object.entries(meters)) await person.pick(channel, meter, form);
    for (const [question, answer] of Object.entries(answers)) await this.#answer(question, answer, form);
    await person.press('Set it up');
    await page.getByRole('heading', { level: 1, name: title }).waitFor();
    await form.waitFor({ state: 'detached' });
  }

  /** Opens the set-up with this procedure. */
  async choose(title: string): Promise<void> {
    const { page, person } = this;
    await person.go('Bench');
    await page.getByRole('link', { name: 'Set-up' }).click();
    await page.getByRole('radio', { name: title, exact: true }).check();
  }

  async #answer(question: string, answer: string, form: Locator): Promise<void> {
    const { person } = this;
    const group = form.getByRole('group', { name: new RegExp(`^${question}`) });
    if ((await group.count()) > 0) await group.first().getByRole('radio', { name: answer, exact: true }).check();
    else if ((await person.field(question, form).evaluate((node) => node.tagName)) === 'SELECT')
      await person.pick(question, answer, form);
    else await person.fill(question, answer, form);
  }

  /** Types values on their channels, by the key for it. */
  async type(values: Readonly<Record<string, string>>): Promise<void> {
    const { page, person } = this;
    await person.press(/^Type a value/);
    const dialog = page.getByRole('dialog', { name: 'Type a value' });
    for (const [channel, text] of Object.entries(values)) {
      await person.choose('Read on', channel, dialog);
      await person.fill('Value as the meter shows it', text, dialog);
      await page.keyboard.press('Enter');
      await dialog.getByText(/Taken as/).waitFor();
    }
    await page.keyboard.press('Escape');
  }

  capture(): Locator {
    return this.page.getByRole('region', { name: 'Capture' });
  }

  /** Waits until every channel stands still. */
  async settled(): Promise<void> {
    await this.capture().getByText('Settled.').waitFor();
  }

  /** Waits until what was shown before has gone, and the new has settled. */
  async settledAnew(): Promise<void> {
    await this.capture().getByText('Not settled yet.').waitFor();
    await this.settled();
  }

  /** The one meter is clipped to another channel: what it settled on before counts no more. */
  async moveTo(channel: string): Promise<void> {
    const place = this.capture().getByRole('radio', { name: channel });
    if (await place.isChecked()) return;
    await place.check();
    await this.capture().getByText('Not settled yet.').waitFor();
  }

  /** Keeps what has settled, by its key or from the box that is being filled; the page says that it has. */
  async keep(said: 'Point kept.' | 'Value kept.' = 'Point kept.', key: 'k' | 'Enter' = 'k'): Promise<void> {
    await this.settled();
    await this.page.keyboard.press(key);
    await this.capture().getByText(said).waitFor();
  }

  result(): Locator {
    return this.page.getByRole('region', { name: 'Result' });
  }

  /** Waits until the result says all of this; fails with what it says. */
  async expectResult(...patterns: readonly RegExp[]): Promise<void> {
    for (const pattern of patterns) {
      const found = this.result().filter({ hasText: pattern });
      await found.waitFor().catch(async (cause: unknown) => {
        throw new Error(`Not ${String(pattern)}: ${await this.result().innerText()}`, { cause });
      });
    }
  }

  keptRows(): Locator {
    return this.page.getByRole('table', { name: 'Kept points' }).getByRole('row');
  }

  /** Switches off, sees the fed volts gone, and says so: a meter is slower than the hand on the key. */
  async powerOff(switchOff: () => void, seenOn = 'Primary volts'): Promise<void> {
    switchOff();
    await this.person.reads(seenOn, /^0\.0/);
    await this.person.powerOff();
  }

  async endRun(): Promise<void> {
    await this.person.press('End this run');
    await this.page.getByRole('button', { name: 'End this run' }).waitFor({ state: 'detached' });
  }
}
