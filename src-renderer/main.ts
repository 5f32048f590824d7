import { tabMemory } from './state/memory.ts';
import { shellTransport } from './state/shell-transport.ts';
import { takeToken } from './state/token.ts';
import type { Transport } from './state/transport.ts';
import { webSocketTransport } from './state/web-socket-transport.ts';
import { startPage } from './start.ts';

/** How this page reaches the program: over the bridge of its window, or to where it came from; null without a key. */
function transport(): Transport | null {
  if (window.turnwright !== undefined) return shellTransport(window.turnwright);
  const token = takeToken(window);
  if (token === null) return null;
  const address = new URL('/contract', document.baseURI);
  address.protocol = 'ws:';
  return webSocketTransport(address.href, ['turnwright.1', `token.${token}`]);
}

const target = document.getElementById('app');
if (target !== null) {
  const chosen = transport();
  if (chosen !== null) startPage(target, chosen, tabMemory(sessionStorage));
  else target.textContent = 'Open Turnwright by the whole address that it printed when it started.';
}
