import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

/** The name that both sides speak; the only subprotocol that is ever named back. */
export const protocolName = 'turnwright.1';

/** The one path on which a connection is upgraded. */
export const contractPath = '/contract';

/** A fresh secret of 256 bits, as it stands in addresses and subprotocols. */
export const freshToken = () => randomBytes(32).toString('base64url');

export interface Door {
  readonly port: number;
  readonly token: string;
}

export type Verdict =
  { readonly admitted: true } | { readonly admitted: false; readonly status: 401 | 403 | 404; readonly why: string };

type Asked = Pick<IncomingMessage, 'url' | 'rawHeaders'>;

const digest = (text: string) => createHash('sha256').update(text).digest();

/** Same text or not, in a time that tells nothing of where they differ or how long they are. */
const sameSecret = (one: string, other: string) => timingSafeEqual(digest(one), digest(other));

/** Every value that was sent under a header's name, as it was sent. */
function sent({ rawHeaders }: Asked, name: string): string[] {
  return rawHeaders.filter((_, at) => at % 2 === 1 && rawHeaders[at - 1]?.toLowerCase() === name);
}

const isExactly = (values: readonly string[], wanted: string) => values.length === 1 && values[0] === wanted;

/** True when the request names this computer by its number, once: a name that was pointed here does not pass. */
export const isOwnHost = (request: Asked, port: number) => isExactly(sent(request, 'host'), `127.0.0.1:${port}`);

function tokenIn(request: Asked): string | null {
  const [only, ...more] = sent(request, 'sec-websocket-protocol');
  if (only === undefined || more.length > 0) return null;
  const [name, token, ...rest] = only.split(',').map((part) => part.trim());
  if (name !== protocolName || token === undefined || rest.length > 0 || !token.startsWith('token.')) return null;
  return token.slice('token.'.length);
}

/**
 * Who may become a connection: a request that names this host by its number, comes from our own page, carries the
 * token, and asks for the contract's path. Everybody else is turned away before the upgrade.
 */
export function judgeUpgrade(request: Asked, { port, token }: Door): Verdict {
  if (!isOwnHost(request, port)) return { admitted: false, status: 403, why: 'Host is not this program.' };
  if (!isExactly(sent(request, 'origin'), `http://127.0.0.1:${port}`)) {
    return { admitted: false, status: 403, why: 'Origin is not the page of this program.' };
  }
  const shown = tokenIn(request);
  if (shown === null || !sameSecret(shown, token)) return { admitted: false, status: 401, why: 'Token needed.' };
  if (request.url !== contractPath) return { admitted: false, status: 404, why: 'Nothing is there.' };
  return { admitted: true };
}
