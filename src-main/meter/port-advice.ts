import { readFile, stat } from 'node:fs/promises';
import { userInfo } from 'node:os';

/** Name of a group by its number, from the system's list; null when it is not there. */
async function groupName(gid: number): Promise<string | null> {
  const groups = await readFile('/etc/group', 'utf8').catch(() => '');
  const line = groups.split('\n').find((one) => one.split(':')[2] === String(gid));
  return line?.split(':')[0] ?? null;
}

/** Who the program runs as; a word in its place where the system does not tell. */
const userName = (): string => {
  try {
    return userInfo().username;
  } catch {
    return 'NAME';
  }
};

/**
 * What to do on this system about a port that this user may not open, as sentences with the command to type.
 * Windows has no such right: there a port that is refused is held by another program.
 */
export async function permissionAdvice(path: string, platform: NodeJS.Platform): Promise<string> {
  switch (platform) {
    case 'linux': {
      const owner = await stat(path).catch(() => null);
      const group = owner === null ? null : await groupName(owner.gid);
      if (group === null || group === 'root') {
        return `It belongs to the system alone. An administrator can give it to the group dialout: sudo chgrp dialout ${path}.`;
      }
      return `It belongs to the group ${group}. Join it: sudo usermod -aG ${group} ${userName()}. Then sign out and in again.`;
    }
    case 'win32':
      return 'Close every other program that could hold the port, then try again.';
    case 'darwin':
      return `Allow it for this user: sudo chmod a+rw ${path}, or use the name that begins with /dev/cu.`;
    default:
      return 'Ask whoever looks after this computer for the right to read and write it.';
  }
}
