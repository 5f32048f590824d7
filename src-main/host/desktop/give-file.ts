import type { BrowserWindow, Dialog } from 'electron';
import { rm } from 'node:fs/promises';
import { dirname, extname } from 'node:path';
import { done } from '../../../src-shared/contract/failure.ts';
import type { Deliver } from '../../export/delivery.ts';
import { putFailure } from '../../export/file-failure.ts';
import { putFile } from '../../export/put-file.ts';

/** Gives a file to the person by asking where to. What they do not want, or cannot be written, is gone. */
export function giveFile(dialog: Pick<Dialog, 'showSaveDialog'>, window: () => BrowserWindow | undefined): Deliver {
  return async ({ path, name }) => {
    let folder = 'that was chosen';
    try {
      const extension = extname(name).slice(1);
      const options = {
        defaultPath: name,
        filters: extension === '' ? [] : [{ name: extension.toUpperCase(), extensions: [extension] }],
      };
      const above = window();
      const { canceled, filePath } = await (above === undefined
        ? dialog.showSaveDialog(options)
        : dialog.showSaveDialog(above, options));
      if (canceled || filePath === '') return done({ kind: 'dismissed' });
      folder = dirname(filePath);
      await putFile(path, filePath);
      return done({ kind: 'saved', file: filePath });
    } catch (error) {
      return putFailure(error, folder);
    } finally {
      await rm(path, { force: true });
    }
  };
}
