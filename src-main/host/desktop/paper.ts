import type { BrowserWindow, Dialog, IpcMain, WebContents } from 'electron';
import { writeFile } from 'node:fs/promises';
import { basename } from 'node:path';
import * as v from 'valibot';
import { badInput, done, failed, type Outcome } from '../../../src-shared/contract/failure.ts';
import { PaperRequest, type Printed } from '../../../src-shared/contract/shell-bridge.ts';
import { paperChannel } from '../../../src-shared/contract/shell-channels.ts';
import { isOwnPage, type Sent } from './own-page.ts';

/** What Electron calls a print that the person called off; it has no code for it. */
const calledOff = 'Print job canceled';

/** A page of a window, on paper or in a file. */
export interface Paper {
  print(window: BrowserWindow): Promise<Outcome<Printed>>;
  /** Asks where to; `name` is what the file is offered as. */
  savePdf(window: BrowserWindow, name: string): Promise<Outcome<Printed>>;
}

const why = (error: unknown) => (error instanceof Error ? error.message : String(error));

/** A name that a file may have on every system, ending in `.pdf`. */
export function pdfName(name: string): string {
  const plain = basename(name.replaceAll('\\', '/'))
    .replace(/[^\p{L}\p{N} ._()-]/gu, '-')
    .replace(/^[. ]+|\.pdf$|[. ]+$/giu, '');
  return `${plain === '' ? 'Turnwright' : plain}.pdf`;
}

/** Prints through the system's own dialog; saves through its own question for a file. */
export function paperOf(dialog: Pick<Dialog, 'showSaveDialog'>): Paper {
  return {
    print: (window) =>
      new Promise((resolve) => {
        window.webContents.print({ printBackground: true }, (success, reason) => {
          if (success) resolve(done({ kind: 'printed' }));
          else if (reason === calledOff) resolve(done({ kind: 'given-up' }));
          else resolve(failed('internal', `The page could not be printed: ${reason}. Nothing was changed.`));
        });
      }),
    async savePdf(window, name) {
      try {
        const { canceled, filePath } = await dialog.showSaveDialog(window, {
          title: 'Save as PDF',
          defaultPath: pdfName(name),
          filters: [{ name: 'PDF', extensions: ['pdf'] }],
        });
        if (canceled || filePath === '') return done({ kind: 'given-up' });
        const pdf = await window.webContents.printToPDF({ printBackground: true, preferCSSPageSize: true });
        await writeFile(filePath, pdf);
        return done({ kind: 'saved', file: filePath });
      } catch (error) {
        return failed('internal', `The PDF could not be saved: ${why(error)}. The page is as it was.`);
      }
    },
  };
}

/** Answers a page that asks for paper. What goes wrong crosses as a value: of an error, only its text would. */
export function answerForPaper(
  ipcMain: Pick<IpcMain, 'handle'>,
  paper: Paper,
  windowOf: (contents: WebContents) => BrowserWindow | null,
): void {
  ipcMain.handle(paperChannel, async (event: Sent, raw: unknown): Promise<Outcome<Printed>> => {
    const window = windowOf(event.sender);
    if (window === null || !isOwnPage(event, () => true)) {
      return failed('bad-message', 'This page may not ask for paper.');
    }
    const read = v.safeParse(PaperRequest, raw);
    if (!read.success) return badInput(read.issues);
    return read.output.kind === 'print' ? paper.print(window) : paper.savePdf(window, read.output.name);
  });
}
