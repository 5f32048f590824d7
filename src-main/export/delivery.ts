import { copyFileSync, constants, mkdirSync, rmSync } from 'node:fs';
import { join, parse } from 'node:path';
import type { Delivered } from '../../src-shared/contract/export-view.ts';
import { done, type Outcome } from '../../src-shared/contract/failure.ts';
import { putFailure } from './file-failure.ts';

/** A file that is ready for the person. Whoever takes it sees that it is removed from `path`. */
export interface ReadyFile {
  readonly path: string;
  /** The name to offer it under. */
  readonly name: string;
  readonly type: string;
  readonly bytes: number;
}

/** How a host gives a file to the person: a browser fetches it, a window asks where to. */
export type Deliver = (file: ReadyFile) => Promise<Outcome<Delivered>> | Outcome<Delivered>;

/** A name beside those that are there: `x.csv`, `x-2.csv`, `x-3.csv` ... */
function copyBeside(from: string, folder: string, name: string): string {
  const { name: stem, ext } = parse(name);
  for (let nth = 1; ; nth += 1) {
    const to = join(folder, nth === 1 ? name : `${stem}-${nth}${ext}`);
    try {
      copyFileSync(from, to, constants.COPYFILE_EXCL);
      return to;
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
    }
  }
}

/** Delivery of a host that can neither ask nor offer: the file is put into a folder, and no file there is replaced. */
export const keepIn =
  (folder: string): Deliver =>
  ({ path, name }) => {
    try {
      mkdirSync(folder, { recursive: true });
      return done({ kind: 'saved', file: copyBeside(path, folder, name) });
    } catch (error) {
      return putFailure(error, folder);
    } finally {
      rmSync(path, { force: true });
    }
  };
