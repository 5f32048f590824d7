import type { CustomScheme, Protocol } from 'electron';
import type { PageFile } from '../page-files.ts';
import { pageHeaders } from '../page-policy.ts';

const scheme = 'turnwright';
const host = 'app';

/** The origin of our page, as a frame names it. */
export const pageOrigin = `${scheme}://${host}`;

/** The one page that a window shows. */
export const pageAddress = `${pageOrigin}/`;

/** Told before Electron is ready: a scheme with an origin of its own, bound by the rules of the web, and no more. */
export const pageScheme: CustomScheme = { scheme, privileges: { standard: true, secure: true } };

const refusal = (status: number, sentence: string, headers: Readonly<Record<string, string>>) =>
  new Response(`${sentence}\n`, { status, headers: { ...headers, 'Content-Type': 'text/plain; charset=utf-8' } });

/**
 * Answers for the files of the page, read before: a request is only ever looked up among them, so nothing that it
 * spells can reach another file. Everything else is refused.
 */
function answerForPage(files: ReadonlyMap<string, PageFile>, request: Request): Response {
  const headers = pageHeaders("'none'");
  if (request.method !== 'GET') return refusal(405, 'Only GET.', { ...headers, Allow: 'GET' });
  if (!request.url.startsWith(pageAddress)) return refusal(403, 'This is not the address of this program.', headers);
  const [path = ''] = request.url.slice(pageOrigin.length).split(/[?#]/, 1);
  const file = files.get(path);
  if (file === undefined) return refusal(404, 'Nothing is there.', headers);
  return new Response(new Uint8Array(file.body), {
    status: 200,
    headers: {
      ...headers,
      'Content-Type': file.type,
      'Cache-Control': file.isHashed ? 'max-age=31536000' : 'no-store',
    },
  });
}

/** Serves the page under its scheme, in the one session that windows use. */
export function servePage(protocol: Pick<Protocol, 'handle'>, files: ReadonlyMap<string, PageFile>): void {
  protocol.handle(scheme, (request) => answerForPage(files, request));
}
