import type { IncomingMessage, ServerResponse } from 'node:http';
import { isOwnHost } from './door.ts';
import type { PageFile } from './page-files.ts';

/** What a browser may do with our page: its own files and its own connection, nothing inline, nothing from elsewhere. */
function securityHeaders(port: number): Readonly<Record<string, string>> {
  const policy = [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self'",
    "font-src 'self'",
    `connect-src 'self' ws://127.0.0.1:${port}`,
    "frame-ancestors 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ];
  return {
    'Content-Security-Policy': policy.join('; '),
    'X-Content-Type-Options': 'nosniff',
    'Referrer-Policy': 'no-referrer',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Permissions-Policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=()',
  };
}

/**
 * Answers GET and HEAD for the files of the page. They hold no data and need no token, but the request must name this
 * host by its number, so that a foreign name pointed at this computer reads nothing.
 */
export function createPageServer(files: ReadonlyMap<string, PageFile>, port: () => number) {
  return (request: IncomingMessage, response: ServerResponse) => {
    for (const [name, value] of Object.entries(securityHeaders(port()))) response.setHeader(name, value);
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
