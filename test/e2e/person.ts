import type { Locator, Page } from 'playwright-core';

/** What a person does with the program, by the names that the screen gives things. */
export class Person {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  button(name: string | RegExp): Locator {
    return this.page.getByRole('button', { name });
  }

  async press(name: string | RegExp): Promise<void> {
    await this.button(name).first().click();
  }

  async go(place: 'Shelf' | 'Bench' | 'Plan' | 'Compare' | 'Meters'): Promise<void> {
    await this.page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: place }).click();
  }

  /** Types into the field whose name begins so; what stands after it says whether it may stay empty. */
  async fill(label: string, text: string, within: Page | Locator = this.page): Promise<void> {
    await this.field(label, within).fill(text);
  }

  field(label: string, within: Page | Locator = this.page): Locator {
    return within.getByLabel(new RegExp(`^\\s*${label}`)).first();
  }

  async choose(group: string, option: string | RegExp, within: Page | Locator = this.page): Promise<void> {
    const name = typeof option === 'string' ? new RegExp(`^${option}$`) : option;
    await within
      .getByRole('group', { name: new RegExp(`^${group}`) })
      .first()
      .getByRole('radio', { name })
      .check();
  }

  async pick(label: string, option: string | RegExp, within: Page | Locator = this.page): Promise<void> {
    const select = this.field(label, within);
    const found = select.locator('option', { hasText: option }).first();
    await select.selectOption((await found.getAttribute('value')) ?? '');
  }

  /** The state that the guard strip shows. */
  async state(): Promise<string> {
    return (await this.page.locator('.state b').innerText()).trim();
  }

  async arrive(name: string): Promise<void> {
    await this.fill('Your name', name);
    await this.fill('Mains volts here', '120');
    await this.choose('Mains frequency here', '60 Hz');
    await this.press(/I have read this\. To the shelf/);
  }

  async addCore(label: string): Promise<void> {
    await this.go('Shelf');
    await this.page
      .getByRole('link', { name: /Add (the first|a) core/ })
      .first()
      .click();
    await this.fill('Label', label);
    await this.fill('Mass', '4,6');
    await this.fill('Tongue width', '40');
    await this.fill('Stack height', '52');
    await this.fill('Window width', '20');
    await this.fill('Window height', '60');
    await this.page.locator('form button[type=submit]').click();
    await this.page.getByRole('heading', { level: 1, name: label }).waitFor();
  }

  async addPrimary(): Promise<void> {
    await this.press(/^Add a winding|^Add the primary|^Add/);
    const dialog = this.page.getByRole('dialog');
    await this.choose('Turns', 'Not known', dialog);
    await this.choose('Is one end joined to the core\\?', 'No', dialog);
    await dialog.getByRole('button').last().click();
    await dialog.waitFor({ state: 'detached' });
  }

  /** Describes a meter: on a port when `port` is given, typed otherwise. Ranges as its sheet prints them. */
  async describeMeter(meter: { name: string; port?: string; ranges: readonly Range[] }): Promise<void> {
    await this.go('Meters');
    await this.page.getByRole('link', { name: /Describe (a|the first) meter/ }).click();
    await this.fill('Name', meter.name);
    if (meter.port === undefined) await this.choose('Its values', 'are typed');
    else {
      await this.fill('Port', meter.port);
      await this.choose('Is the lead to the computer isolated, by light or transformer\\?', 'Yes');
    }
    await this.choose('On a.c. it shows', 'true rms');
    await this.fill('Rated up to', '600');
    await this.fill('Category', 'CAT III 600 V');
    for (const [index, range] of meter.ranges.entries()) {
      await this.press(/^Add (a|the next) range/);
      const row = this.page.locator(`[aria-label="Range ${index + 1}"]`);
      await this.fill('Top', range.upTo, row);
      await this.fill('One step', range.lastDigit, row);
      await this.fill('%', range.percent, row);
      await this.fill('digits', range.digits, row);
    }
  }

  /** Keeps the meter that is being described; it is on the list then. */
  async keepMeter(): Promise<void> {
    await this.press('Keep this meter');
    await this.page.getByRole('heading', { level: 1, name: 'Meters' }).waitFor();
  }

  /** Proves dead with a two-pole indicator: lights, nothing on every part of the circuit, lights. */
  async proveDead(): Promise<void> {
    await this.page.getByRole('navigation', { name: 'At the bench' }).getByText('Prove dead').click();
    for (const line of ['The plug is out', 'No charged capacitor', 'Meter and leads whole']) await this.tick(line);
    await this.choose('Proved with', 'Two-pole indicator');
    await this.fill('Indicator', 'Two-pole indicator');
    await this.fill('Rated for', '690');
    await this.press('Begin the proof');
    await this.page.getByRole('heading', { name: 'Step 1 of' }).waitFor();
    const steps = this.page.getByRole('list', { name: 'Steps of the proof' });
    const count = await steps.getByRole('listitem').count();
    for (let step = 0; step < count; step += 1) {
      await this.page.getByRole('heading', { name: `Step ${step + 1} of` }).waitFor();
      await this.page.keyboard.press(step === 0 || step === count - 1 ? 'l' : 'n');
    }
    await this.page.getByText('Isolated', { exact: true }).first().waitFor();
  }

  /** Confirms a line, unless it stands already. */
  async tick(line: string): Promise<void> {
    const box = this.page.getByRole('checkbox', { name: new RegExp(line) }).first();
    if (await box.isChecked()) return;
    await box.click();
    await this.page
      .getByRole('checkbox', { name: new RegExp(line), checked: true })
      .first()
      .waitFor();
  }

  /** Ticks every line that holds up power, and takes the limits as proposed. */
  async confirmAll(): Promise<void> {
    await this.page.getByRole('navigation', { name: 'At the bench' }).getByText('Readings').click();
    const list = this.page.getByRole('list', { name: 'Checks', exact: true });
    await list.waitFor();
    const open = list.getByRole('checkbox', { checked: false });
    for (let left = await open.count(); left > 0; left = await open.count()) {
      await open.first().click();
      await this.page.waitForFunction(
        (was) => document.querySelectorAll('ol[aria-label=Checks] input:not(:checked)').length < was,
        left,
      );
    }
    const limits = this.button('Take these limits');
    if (await limits.isVisible()) await limits.click();
  }

  /** Holds the power-on control for as long as it asks. */
  async powerOn(): Promise<void> {
    await this.press(/Ready check/);
    const control = this.button(/Power on/);
    await control.focus();
    await this.page.keyboard.down('Space');
    await this.page.getByText('power declared on').waitFor();
    await this.page.keyboard.up('Space');
  }

  async powerOff(): Promise<void> {
    await this.page.keyboard.press('F8');
    await this.page.getByText('Proving', { exact: true }).first().waitFor();
  }

  /** Chooses who reads the two voltages: `Two meters`, `One meter, moved` or `Typed`. */
  async setUp(way: string, meters: Readonly<Record<string, string>>): Promise<void> {
    await this.choose('Meters', new RegExp(`^${way}`));
    for (const [channel, meter] of Object.entries(meters)) await this.pick(`${channel}$`, meter);
    await this.press('Set it up');
  }

  /** Everything from the bench set up to power declared on. */
  async toLive(): Promise<void> {
    await this.proveDead();
    await this.confirmAll();
    await this.powerOn();
  }

  /** Waits until the figure of a channel shows this. */
  async reads(channel: string, figure: RegExp): Promise<void> {
    await this.page.getByRole('region', { name: channel, exact: true }).getByText(figure).first().waitFor();
  }

  async settled(): Promise<void> {
    await this.page.getByRole('region', { name: 'Capture' }).getByText('Settled.').waitFor();
  }

  /** The result column, as text. */
  result(): Locator {
    return this.page.getByRole('region', { name: 'Turns on the primary' });
  }

  async openSession(supply: { kind: RegExp; volts: string; hertz: string }): Promise<void> {
    await this.go('Bench');
    await this.choose('Supply', supply.kind);
    await this.pick('Core and build', /build 1/);
    await this.pick('Winding that is fed', 'Primary');
    await this.fill('Highest volts it can give', supply.volts);
    await this.choose('Hertz', supply.hertz);
    await this.choose('One side joined to earth\\?', 'Earthed');
    await this.choose('Through an RCD/GFCI\\?', 'Yes');
    await this.fill('Who is at the bench', 'Rowan');
    await this.press('Open the session');
  }
}

/** One range of a meter as its sheet prints it. */
export interface Range {
  readonly upTo: string;
  readonly lastDigit: string;
  readonly percent: string;
  readonly digits: string;
}
