import { constants } from 'node:fs';
import { access } from 'node:fs/promises';
import type { LinkReason } from '../../src-shared/meter/link-status.ts';

/**
 * The port library tells its failures apart by words only, so its words are read here and nowhere else: those of its
 * Linux, macOS and Windows parts. Windows says that access is denied when another program holds the port.
 */
const words: readonly (readonly [RegExp, LinkReason])[] = [
  [/no such file|file not found|does not exist|cannot find/i, 'not-found'],
  [/permission denied|operation not permitted/i, 'permission'],
  [/access denied|resource busy|temporarily unavailable|lock/i, 'busy'],
  [/is a directory|inappropriate ioctl/i, 'not-a-port'],
  [/baud|invalid argument|custom.*rate|setting/i, 'settings-refused'],
];

const codes: Readonly<Record<string, LinkReason>> = { ENOENT: 'not-found', EACCES: 'permission', EPERM: 'permission' };

const codeOf = (error: unknown): string =>
  typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';

/** What the system itself says of the path; undefined where it finds nothing wrong. */
async function bySystem(path: string): Promise<LinkReason | undefined> {
  try {
    await access(path, constants.R_OK | constants.W_OK);
    return undefined;
  } catch (error) {
    return codes[codeOf(error)];
  }
}

/** Why a port could not be opened. */
export async function openFailure(path: string, error: Error, platform: NodeJS.Platform): Promise<LinkReason> {
  const message = error.message.replaceAll(path, '');
  const said = words.find(([shape]) => shape.test(message))?.[1];
  if (said !== undefined) return said;
  return (platform === 'win32' ? undefined : await bySystem(path)) ?? 'open-failed';
}
