import { tabMemory } from './state/memory.ts';
import { takeToken } from './state/token.ts';
import { webSocketTransport } from './state/web-socket-transport.ts';
import { startPage } from './start.ts';

const target = document.getElementById('app');
const token = takeToken(window);
if (target !== null && token === null) {
  target.textContent = 'Open Turnwright by the whole address that it printed when it started.';
} else if (target !== null) {
  const address = new URL('/contract', document.baseURI);
  address.protocol = 'ws:';
  startPage(target, webSocketTransport(address.href, ['turnwright.1', `token.${token}`]), tabMemory(sessionStorage));
}
