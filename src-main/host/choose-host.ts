import { fetchElectron } from './fetch-electron.ts';
import { electronBinary } from './electron-binary.ts';
import type { StartOptions } from './start-options.ts';
import { tryDesktop } from './try-desktop.ts';

/** What is known of where the program is started. */
export interface Surroundings {
  readonly platform: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The number of the user; null where there is none. */
  readonly uid: number | null;
  /** The folder of the package `electron`; null when it is not installed. */
  readonly electronFolder: string | null;
}

/** Why no desktop window is tried here, in short; null when one is. */
export function whyNoDesktop({ platform, env, uid, electronFolder }: Surroundings): string | null {
  const named = (name: string) => (env[name] ?? '') !== '';
  const hasDisplay = platform === 'win32' || platform === 'darwin' || named('DISPLAY') || named('WAYLAND_DISPLAY');
  if (!hasDisplay) return 'there is no display';
  if (uid === 0) return 'it does not run as root';
  return electronFolder === null ? 'Electron is not installed' : null;
}

export interface ChooseOptions {
  readonly chosen: StartOptions;
  readonly surroundings: Surroundings;
  /** What Electron is to run: the folder of the program. */
  readonly program: string;
  readonly say: (line: string) => void;
  readonly stopped: AbortSignal;
  /** How long to wait for the download to begin, and for the window to show. */
  readonly patience?: { readonly downloadMs: number; readonly windowMs: number; readonly lookEveryMs: number };
}

const usualPatience = { downloadMs: 20_000, windowMs: 30_000, lookEveryMs: 250 };

/** The exit code of a desktop window that showed and ended; null to go on with the local host, which is said. */
export async function tryTheDesktop(options: ChooseOptions): Promise<number | null> {
  const { chosen, surroundings, say, stopped, patience = usualPatience } = options;
  if (chosen.isLocal) return null;
  const goOn = (why: string) => {
    if (!stopped.aborted) say(`No desktop window (${why}). Going on in your browser.`);
    return null;
  };
  const reason = whyNoDesktop(surroundings);
  const folder = surroundings.electronFolder;
  if (reason !== null || folder === null) return goOn(reason ?? 'Electron is not installed');
  let binary = electronBinary(folder);
  if (binary === null) {
    const { downloadMs: patienceMs, lookEveryMs } = patience;
    const fetched = await fetchElectron({ folder, patienceMs, lookEveryMs, say, stopped });
    if (!fetched.ok) return goOn(`Electron ${fetched.failure.message}`);
    binary = fetched.value;
  }
  const args = [options.program, ...(chosen.folder === null ? [] : ['--data', chosen.folder])];
  const tried = await tryDesktop({ binary, args, patienceMs: patience.windowMs, say, stopped });
  return tried.kind === 'ended' ? tried.exitCode : goOn(tried.why);
}
