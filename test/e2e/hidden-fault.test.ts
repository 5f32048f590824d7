import { expect, it, onTestFinished } from 'vitest';
import { dataFolder, startProgram } from '../program.ts';
import { expectNoAxeFindings } from './axe.ts';
import { openBrowser, openPage } from './browser.ts';
import { Keys } from './keys.ts';

it('hides a fault, finds it by what the program shows, and is told that it was that, by keyboard alone', async () => {
  const browser = await openBrowser();
  const folder = dataFolder();
  // By this lot the first fault that is drawn is damp in the insulation.
  const program = await startProgram({
    dataFolder: folder.path,
    env: { TURNWRIGHT_CHECK_REPLIES: '1', TURNWRIGHT_LOT: '14' },
  });
  const { page, context, errors } = await openPage(browser, program.url);
  onTestFinished(async () => {
    await context.close();
    await browser.close();
    const code = await program.stop();
    folder.remove();
    expect({ errors, code, misfits: /does not fit|misfit/.test(program.said()) }).toEqual({
      errors: [],
      code: 0,
      misfits: false,
    });
  });
  const keys = new Keys(page);

  await keys.fill(/Your name/, 'Rowan');
  await keys.act(/Practise first/);
  await page.getByText('invented, for practice').first().waitFor();
  await keys.act(/^Practice$/);
  await keys.act(/^Lay out the further practice meters$/);
  await keys.act(/^Supply, core, coils and meters/);
  await keys.act(/^Hide a fault from me$/);
  const toFind = page.getByRole('region', { name: 'A fault to find' });
  await toFind.getByText('A fault is hidden.').waitFor();
  await expectNoAxeFindings(page);

  await keys.act(/^Bench$/);
  await page.getByRole('heading', { name: 'Begin at the bench' }).waitFor();
  await keys.choose(/Supply/, /Isolated low-voltage/);
  await keys.pick(/^Core and build/, 1);
  await keys.fill(/Highest volts it can give/, '24');
  await keys.fill(/Room temperature/, '21');
  await keys.act(/^Open the session$/);
  await keys.choose(/What to do/, /^Insulation resistance/);
  await page.getByRole('form', { name: 'Who reads what' }).waitFor();
  await keys.pick(/^Insulation after/, 1);
  await keys.act(/^Set it up$/);
  await keys.proveDead();
  const capture = page.getByRole('region', { name: 'Capture' });
  await capture.waitFor();
  await keys.fill(/^Between/, 'Primary and core');
  await keys.fill(/^Test volts/, '500');
  await keys.fill(/^Figure to meet/, '5');
  await keys.fill(/^Whose figure/, 'own choice');
  await keys.choose(/One end of it/, /^No$/);
  await capture.getByText('Settled.').waitFor();
  await keys.act(/^Keep this point/);
  // What it reads, what fits, and what would decide.
  const seen = page.getByRole('region', { name: 'Expected against seen' });
  await seen.getByText(/^0\.21 MΩ where 5 MΩ was the figure\./).waitFor();
  await seen.getByText(/^Damp, dust or a carbon track/).waitFor();
  await expectNoAxeFindings(page);

  await keys.act(/^Practice$/);
  await keys.act(/^Tell me what it is$/);
  await toFind.getByText('damp or dirt in the insulation, 0.21 MΩ').waitFor();
  // The run keeps both: what was found, and what it was.
  await keys.act(/^Bench$/);
  await keys.act(/^run \d+$/i);
  await page.getByText(/^What was hidden: damp or dirt in the insulation/i).waitFor();
  await page
    .getByRole('region', { name: 'Expected against seen' })
    .getByText(/^Damp, dust or a carbon track/)
    .waitFor();
  await page
    .getByText(/^Practice\. /)
    .first()
    .waitFor();
  await expectNoAxeFindings(page);
});
