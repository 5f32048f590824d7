import { createReadStream, rmSync } from 'node:fs';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { ReadyFile } from '../export/delivery.ts';

/** Whether a page of this program asked, as far as the browser says; one that says nothing is let through. */
export function comesFromOwnPage({ headers }: IncomingMessage): boolean {
  const site = headers['sec-fetch-site'];
  return site === undefined || site === 'same-origin';
}

/** Streams a file to be kept, never shown in the browser, and removes it when it has gone or the browser went away. */
export function sendDownload(response: ServerResponse, { path, name, type, bytes }: ReadyFile): void {
  // The name is letters, figures, hyphens and points; anything else would end the header here.
  const plainName = name.replaceAll(/[^\w.-]/g, '_');
  response.writeHead(200, {
    'Content-Type': type,
    'Content-Length': bytes,
    'Content-Disposition': `attachment; filename="${plainName}"`,
    'Cache-Control': 'no-store',
    // Were it shown after all, it could do nothing.
    'Content-Security-Policy': "default-src 'none'; style-src 'unsafe-inline'; sandbox",
  });
  const file = createReadStream(path);
  const gone = () => {
    rmSync(path, { force: true });
  };
  file.on('error', () => response.destroy());
  file.on('close', gone);
  response.on('close', () => file.destroy());
  file.pipe(response);
}
