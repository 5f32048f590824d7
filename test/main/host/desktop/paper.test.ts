import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Deliver } from '../../../../src-main/export/delivery.ts';
import { pdfName } from '../../../../src-main/host/desktop/paper.ts';
import { done } from '../../../../src-shared/contract/failure.ts';
import { emptyServices } from '../../../contract/stand-in.ts';
import { desktopForTest, type DesktopForTest } from './desktop-for-test.ts';
import type { StandInWindow } from './stand-in-window.ts';
import type { StandInPage } from './stand-in-page.ts';

let desktop: DesktopForTest;
let window: StandInWindow;
let page: StandInPage;
let folder: string;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-paper-'));
  desktop = await desktopForTest();
  ({ window, page } = await desktop.open());
});

afterEach(async () => {
  await desktop.close();
  rmSync(folder, { recursive: true });
});

describe('a page on paper', () => {
  it('is printed', async () => {
    expect(await page.bridge.print()).toEqual({ ok: true, value: { kind: 'printed' } });
  });

  it('is not when the person changes their mind, and that is no failure', async () => {
    window.webContents.printed = 'Print job canceled';
    expect(await page.bridge.print()).toEqual({ ok: true, value: { kind: 'given-up' } });
  });

  it('is a failure in words when the printer fails', async () => {
    window.webContents.printed = 'Print job failed';
    expect(await page.bridge.print()).toMatchObject({
      ok: false,
      failure: { message: 'The page could not be printed: Print job failed. Nothing was changed.' },
    });
  });
});

describe('a page as PDF', () => {
  it('is saved where the person says, offered under the given name', async () => {
    const file = join(folder, 'sheet.pdf');
    desktop.electron.saveTo = { canceled: false, filePath: file };
    expect(await page.bridge.savePdf('Build sheet 3')).toEqual({ ok: true, value: { kind: 'saved', file } });
    expect(desktop.electron.saveOffered.defaultPath).toBe('Build sheet 3.pdf');
    expect(readFileSync(file, 'utf8')).toBe('%PDF-');
  });

  it('is not when the person changes their mind', async () => {
    expect(await page.bridge.savePdf('x')).toEqual({ ok: true, value: { kind: 'given-up' } });
  });

  it('is a failure in words when it cannot be made or written: no error is lost on the way', async () => {
    desktop.electron.saveTo = { canceled: false, filePath: join(folder, 'not-there', 'sheet.pdf') };
    expect(await page.bridge.savePdf('x')).toMatchObject({
      ok: false,
      failure: { message: expect.stringContaining('ENOENT') },
    });
    window.webContents.pdf = new Error('Printing failed');
    expect(await page.bridge.savePdf('x')).toMatchObject({
      ok: false,
      failure: { message: expect.stringContaining('Printing failed') },
    });
  });

  it.each([
    ['Build sheet', 'Build sheet.pdf'],
    ['plate.pdf', 'plate.pdf'],
    ['../../etc/passwd', 'passwd.pdf'],
    ['C:\\Windows\\win.ini', 'win.ini.pdf'],
    ['', 'Turnwright.pdf'],
    ['...', 'Turnwright.pdf'],
    ['a/b:c*"d', 'b-c--d.pdf'],
    ['Trafo Größe 5', 'Trafo Größe 5.pdf'],
  ])('is offered as a file, whatever the page calls it: %j', (name, file) => {
    expect(pdfName(name)).toBe(file);
  });
});

describe('a file of a run', () => {
  async function give(saveTo: { canceled: boolean; filePath: string }) {
    let deliver: Deliver | null = null;
    const giving = await desktopForTest({
      create: (given) => {
        deliver = given;
        return done({ services: emptyServices, subscribe: () => () => undefined, close: () => Promise.resolve() });
      },
    });
    await giving.open();
    const ready = { path: join(folder, '1.part'), name: 'run 7.csv', type: 'text/csv', bytes: 3 };
    writeFileSync(ready.path, 'a;b');
    giving.electron.saveTo = saveTo;
    const delivered = await (deliver as Deliver | null)?.(ready);
    await giving.close();
    expect(existsSync(ready.path)).toBe(false);
    return { delivered, offered: giving.electron.saveOffered.defaultPath };
  }

  it('is saved where the person says, offered under its name', async () => {
    const file = join(folder, 'mine.csv');
    expect(await give({ canceled: false, filePath: file })).toEqual({
      delivered: { ok: true, value: { kind: 'saved', file } },
      offered: 'run 7.csv',
    });
    expect(readFileSync(file, 'utf8')).toBe('a;b');
  });

  it('is gone when the person chooses nothing', async () => {
    const { delivered } = await give({ canceled: true, filePath: '' });
    expect(delivered).toEqual({ ok: true, value: { kind: 'dismissed' } });
  });

  it('is a failure in words when it cannot be written', async () => {
    const { delivered } = await give({ canceled: false, filePath: join(folder, 'not-there', 'x.csv') });
    expect(delivered).toMatchObject({ ok: false, failure: { code: 'store-unwritable' } });
  });
});
