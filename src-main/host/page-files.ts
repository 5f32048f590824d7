import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';

/** One file of the page, ready to serve. */
export interface PageFile {
  readonly body: Buffer;
  readonly type: string;
  /** True when its name carries a hash of what is in it, so that it may be kept for good. */
  readonly isHashed: boolean;
}

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
};

const hashed = /^\/assets\/.+-[\w-]{8}\.\w+$/;

/**
 * Every file below the folder by the path that asks for it, with `/` for the index. They are read once, here: a request
 * is only ever looked up in this map, so nothing that it spells can reach another file. Links are left out.
 * Throws the system's error when the folder cannot be read.
 */
export function readPageFiles(folder: string): ReadonlyMap<string, PageFile> {
  const files = new Map<string, PageFile>();
  const visit = (below: string, path: string) => {
    for (const entry of readdirSync(below, { withFileTypes: true })) {
      const file = join(below, entry.name);
      const name = `${path}/${entry.name}`;
      if (entry.isDirectory()) visit(file, name);
      if (!entry.isFile()) continue;
      const type = types[extname(entry.name).toLowerCase()] ?? 'application/octet-stream';
      files.set(name, { body: readFileSync(file), type, isHashed: hashed.test(name) });
    }
  };
  visit(folder, '');
  const index = files.get('/index.html');
  if (index !== undefined) files.set('/', index);
  return files;
}
