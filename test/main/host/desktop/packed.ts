import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../../../..');

/** Where Electron's binary keeps its fuses: after this text, a version and a length, one character for each. */
const fuseMark = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX';

/** A folder that looks enough like Electron's to be packed, with every fuse the other way round than is wanted. */
function standInDist(folder: string) {
  mkdirSync(join(folder, 'locales'), { recursive: true });
  mkdirSync(join(folder, 'resources'));
  writeFileSync(join(folder, 'electron'), `before${fuseMark}\x01\x0811110011after`, 'latin1');
  for (const name of ['chrome-sandbox', 'version', 'LICENSE', 'LICENSES.chromium.html', 'locales/en-US.pak']) {
    writeFileSync(join(folder, name), name);
  }
}

interface Entry {
  readonly files?: Readonly<Record<string, Entry>>;
  readonly offset?: string;
  readonly size?: number;
  readonly unpacked?: boolean;
}

/** What an installed program would hold. */
export interface Packed {
  /** Every file, by its path in the program. */
  readonly paths: readonly string[];
  /** Those that lie beside the archive, as files of their own. */
  readonly unpacked: ReadonlySet<string>;
  /** The fuses of the program, a character each. */
  readonly fuses: string;
  /** The whole program written out as a plain folder, away from this tree and its modules. */
  readonly folder: string;
  readonly said: string;
  remove(): void;
}

/** Runs the packager itself as far as it goes without Electron's binary: everything but making installers of it. */
export async function pack(): Promise<Packed> {
  const base = mkdtempSync(join(tmpdir(), 'turnwright-packed-'));
  standInDist(join(base, 'electron'));
  const child = spawn(
    process.execPath,
    [
      join(root, 'node_modules/electron-builder/cli.js'),
      ...['--dir', '--linux', `--${process.arch}`, '--config', 'src-main/host/desktop/packaging.ts'],
      ...[`-c.electronDist=${join(base, 'electron')}`, `-c.directories.output=${join(base, 'packed')}`],
    ],
    { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  let said = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (said += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (said += text));
  const [code] = (await once(child, 'close')) as [number];
  if (code !== 0) throw new Error(said.slice(-2000));

  const installed = join(base, 'packed', process.arch === 'x64' ? 'linux-unpacked' : `linux-${process.arch}-unpacked`);
  const resources = join(installed, 'resources');
  const archive = readFileSync(join(resources, 'app.asar'));
  const header = JSON.parse(archive.toString('utf8', 16, 16 + archive.readUInt32LE(12))) as Entry;
  const start = 8 + archive.readUInt32LE(4);
  const folder = join(base, 'plain');
  const paths: string[] = [];
  const unpacked = new Set<string>();
  const visit = (entry: Entry, path: string) => {
    for (const [name, each] of Object.entries(entry.files ?? {})) {
      const at = path === '' ? name : `${path}/${name}`;
      if (each.files !== undefined) {
        visit(each, at);
        continue;
      }
      paths.push(at);
      mkdirSync(dirname(join(folder, at)), { recursive: true });
      if (each.unpacked === true) {
        unpacked.add(at);
        cpSync(join(resources, 'app.asar.unpacked', at), join(folder, at));
      } else {
        const from = start + Number(each.offset);
        writeFileSync(join(folder, at), archive.subarray(from, from + (each.size ?? 0)));
      }
    }
  };
  visit(header, '');
  const binary = readFileSync(join(installed, 'turnwright'), 'latin1');
  const fusesAt = binary.indexOf(fuseMark) + fuseMark.length + 2;
  return {
    paths,
    unpacked,
    fuses: binary.slice(fusesAt, fusesAt + 8),
    folder,
    said,
    remove: () => {
      rmSync(base, { recursive: true, force: true });
    },
  };
}
