import { spawn } from 'node:child_process';
import { readdir, realpath } from 'node:fs/promises';
import { join } from 'node:path';

/** A port of this computer. `identity` names its adapter for good; null when nothing does. */
export interface FoundPort {
  readonly path: string;
  readonly identity: string | null;
  readonly label: string;
}

/** Why the system's own list could not be had. What the device folder shows is given all the same. */
export type ListingFailure = 'no-lister' | 'lister-failed' | 'out-of-descriptors' | 'list-failed';

const failures = {
  'no-lister': 'Listing failed: the program udevadm is not there.',
  'lister-failed': 'Listing failed: udevadm ended with an error.',
  'out-of-descriptors': 'Listing failed: the system has no file descriptors left.',
  'list-failed': 'Listing failed.',
} as const satisfies Record<ListingFailure, string>;

export interface PortList {
  readonly ports: readonly FoundPort[];
  /** Null when listing worked: then no ports means none. A path can be typed in any case. */
  readonly failed: { readonly code: ListingFailure; readonly sentence: string } | null;
}

/** What the port library lists. */
export interface ListedPort {
  readonly path: string;
  readonly manufacturer?: string | undefined;
  readonly serialNumber?: string | undefined;
}

/** How ports are looked for; a test puts its own folder, platform and lister here. */
export interface PortSearch {
  readonly platform: NodeJS.Platform;
  readonly devices: string;
  readonly lister: string;
  readonly list: () => Promise<readonly ListedPort[]>;
}

const systemSearch: PortSearch = {
  platform: process.platform,
  devices: '/dev',
  lister: 'udevadm',
  list: async () => (await import('serialport')).SerialPort.list(),
};

const codeOf = (thrown: unknown): string =>
  typeof thrown === 'object' && thrown !== null && 'code' in thrown ? String(thrown.code) : '';

const isOutOfDescriptors = (code: string): boolean => code === 'EMFILE' || code === 'ENFILE';

/**
 * Runs the system's lister once before the port library does. The library throws outside any promise when there are no
 * descriptors left, and takes a lister that fails for an empty list; this tells such a failure from no ports.
 */
function probe(lister: string): Promise<ListingFailure | null> {
  return new Promise((resolve) => {
    try {
      const child = spawn(lister, ['info', '-e'], { stdio: ['ignore', 'ignore', 'ignore'] });
      child.on('error', (error) => {
        const code = codeOf(error);
        resolve(isOutOfDescriptors(code) ? 'out-of-descriptors' : code === 'ENOENT' ? 'no-lister' : 'lister-failed');
      });
      child.on('exit', (code) => {
        resolve(code === 0 ? null : 'lister-failed');
      });
    } catch (thrown) {
      resolve(isOutOfDescriptors(codeOf(thrown)) ? 'out-of-descriptors' : 'lister-failed');
    }
  });
}

/** Names in a folder that start as asked, sorted; none when the folder cannot be read. */
const namesIn = async (folder: string, starts: readonly string[]): Promise<string[]> => {
  const names = await readdir(folder).catch((): string[] => []);
  return names.filter((name) => starts.some((start) => name.startsWith(start))).sort();
};

/** Serial adapters that the device folder shows, by path, with their lasting name where there is one. */
async function inDeviceFolder(devices: string): Promise<Map<string, string | null>> {
  const found = new Map<string, string | null>();
  for (const name of await namesIn(devices, ['ttyUSB', 'ttyACM'])) found.set(join(devices, name), null);
  const byId = join(devices, 'serial', 'by-id');
  for (const name of await namesIn(byId, [''])) {
    const lasting = join(byId, name);
    const path = await realpath(lasting).catch(() => null);
    if (path !== null) found.set(path, lasting);
  }
  return found;
}

async function libraryList(search: PortSearch): Promise<readonly ListedPort[] | ListingFailure> {
  const failure = search.platform === 'linux' ? await probe(search.lister) : null;
  if (failure !== null) return failure;
  try {
    return await search.list();
  } catch {
    return 'list-failed';
  }
}

/** Adapters first, built-in ports after them, each by name. */
const inOrder = (one: FoundPort, other: FoundPort): number => {
  const rank = ({ path }: FoundPort) => (/ttyS\d+$/.test(path) ? 1 : 0);
  return rank(one) - rank(other) || one.path.localeCompare(other.path, 'en', { numeric: true });
};

/**
 * The ports of this computer: what the port library lists, together with what the device folder shows. A failure of
 * listing is said apart from finding none.
 */
export async function listPorts(search: PortSearch = systemSearch): Promise<PortList> {
  const listed = await libraryList(search);
  const shown = search.platform === 'linux' ? await inDeviceFolder(search.devices) : new Map<string, string | null>();
  const ports = new Map<string, FoundPort>();
  for (const { path, manufacturer, serialNumber } of typeof listed === 'string' ? [] : listed) {
    const identity = shown.get(path) ?? serialNumber ?? null;
    ports.set(path, { path, identity, label: [path, manufacturer].filter(Boolean).join(' · ') });
  }
  for (const [path, identity] of shown) {
    if (!ports.has(path)) ports.set(path, { path, identity, label: path });
  }
  const failed = typeof listed === 'string' ? { code: listed, sentence: failures[listed] } : null;
  return { ports: [...ports.values()].sort(inOrder), failed };
}

/**
 * Where a described port is now. A lasting name (a link in the device folder, or a serial number) is looked for first,
 * since an adapter may come back under another path. Not found, the described path holds, unless another adapter stands
 * there by now: then the lasting name is given, which opens nothing, so that no other meter is read in its place.
 */
export async function whereIs(
  { path, identity }: { readonly path: string; readonly identity: string | null },
  list: () => Promise<PortList>,
): Promise<string> {
  if (identity === null) return path;
  const link = identity.startsWith('/') ? await realpath(identity).catch(() => null) : null;
  if (link !== null) return link;
  const { ports } = await list();
  const found = ports.find((port) => port.identity === identity);
  if (found !== undefined) return found.path;
  const isAnothers = ports.some((port) => port.path === path && port.identity !== null);
  return isAnothers ? identity : path;
}
