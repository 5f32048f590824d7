import { posix, win32 } from 'node:path';

/** Where this system's programs keep a person's data: the folder of the record when none is named. */
export function usualDataFolder(
  platform: string,
  env: Readonly<Record<string, string | undefined>>,
  home: string,
): string {
  if (platform === 'win32') return win32.join(env['APPDATA'] ?? win32.join(home, 'AppData', 'Roaming'), 'Turnwright');
  if (platform === 'darwin') return posix.join(home, 'Library', 'Application Support', 'Turnwright');
  // The base directory specification has a relative path ignored.
  const named = env['XDG_DATA_HOME'];
  const base = named !== undefined && posix.isAbsolute(named) ? named : posix.join(home, '.local', 'share');
  return posix.join(base, 'turnwright');
}

/** The folder that a command line names with `--data`; null when it names none. Everything else on it is let be. */
export function folderIn(args: readonly string[]): string | null {
  const joined = args.find((word) => word.startsWith('--data='))?.slice('--data='.length);
  const at = args.indexOf('--data');
  const folder = joined ?? (at < 0 ? undefined : args[at + 1]);
  return folder === undefined || folder === '' ? null : folder;
}
