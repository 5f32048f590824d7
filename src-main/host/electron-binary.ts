import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import * as v from 'valibot';

const Named = v.object({ version: v.string() });

/**
 * Electron's program in its installed package: its path, or null when it was not fetched yet, not wholly, or is of
 * another version.
 * @param folder - the folder of the package `electron`
 */
export function electronBinary(folder: string): string | null {
  try {
    const wanted = v.parse(Named, JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))).version;
    const fetched = readFileSync(join(folder, 'dist', 'version'), 'utf8')
      .trim()
      .replace(/^v/, '');
    const binary = join(folder, 'dist', readFileSync(join(folder, 'path.txt'), 'utf8').trim());
    return fetched === wanted && existsSync(binary) ? binary : null;
  } catch {
    return null;
  }
}
