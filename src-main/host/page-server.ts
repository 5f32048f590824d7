import type { IncomingMessage, ServerResponse } from 'node:http';
import { isOwnHost } from './door.ts';
import { downloadsPath, type Downloads } from './downloads.ts';
import type { PageFile } from './page-files.ts';
import { pageHeaders } from './page-policy.ts';
import { comesFromOwnPage, sendDownload } from './send-download.ts';

/**
 * Answers GET and HEAD for the files of the page. They hold no data and need no token, but the request must name this
 * host by its number, so that a foreign name pointed at this computer reads nothing. Below `downloadsPath` a file of the
 * person's own is handed out once, to whoever knows the path that only our own page was told.
 */
export function createPageServer(files: ReadonlyMap<string, PageFile>, downloads: Downloads, port: () => number) {
  return (request: IncomingMessage, response: ServerResponse) => {
    for (const [name, value] of Object.entries(pageHeaders(`'self' ws://127.0.0.1:${port()}`))) {
      response.setHeader(name, value);
    }
    const refuse = (status: number, sentence: string) => {
      // What is left of a refused request is not read: the connection ends with the answer.
      response.shouldKeepAlive = false;
      const text = Buffer.from(`${sentence}\n`);
      response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', 'Content-Length': text.length });
      response.end(request.method === 'HEAD' ? undefined : text);
    };
    if (!isOwnHost(request, port())) {
      refuse(403, 'This is not the address of this program.');
    } else if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.setHeader('Allow', 'GET, HEAD');
      refuse(405, 'Only GET and HEAD.');
    } else if (request.headers['content-length'] !== undefined || request.headers['transfer-encoding'] !== undefined) {
      refuse(400, 'A request for a file has no body.');
    } else if (request.url?.startsWith(downloadsPath) === true) {
      // Only a whole GET of our own page takes the file: anything else would use its one time up.
      const isAllowed = request.method === 'GET' && comesFromOwnPage(request);
      const file = isAllowed ? downloads.take(request.url) : null;
      if (file === null) refuse(404, 'Nothing is there.');
      else sendDownload(response, file);
    } else {
      const [path = ''] = (request.url ?? '').split('?', 1);
      const file = files.get(path);
      if (file === undefined) {
        refuse(404, 'Nothing is there.');
        return;
      }
      response.writeHead(200, {
        'Content-Type': file.type,
        'Content-Length': file.body.length,
        'Cache-Control': file.isHashed ? 'public, max-age=31536000, immutable' : 'no-store',
      });
      response.end(request.method === 'HEAD' ? undefined : file.body);
    }
  };
}
