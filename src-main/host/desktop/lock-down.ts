import type { App, Session, WebContents } from 'electron';
import { pageAddress } from './app-scheme.ts';

/** Denies a session everything that a page could ask of the computer, and every download. */
export function denyAll(session: Session): void {
  session.setPermissionRequestHandler((_page, _permission, answer) => {
    answer(false);
  });
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.setDisplayMediaRequestHandler((_request, answer) => {
    answer(null);
  });
  session.on('will-download', (event) => {
    event.preventDefault();
  });
}

const withoutHash = (address: string) => address.split('#', 1)[0];

/** A page stays where it is: it may load itself again and go nowhere else, open nothing, embed nothing. */
function keepInPlace(page: WebContents): void {
  page.on('will-navigate', (event) => {
    if (withoutHash(event.url) !== pageAddress) event.preventDefault();
  });
  page.on('will-redirect', (event) => {
    event.preventDefault();
  });
  page.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame) event.preventDefault();
  });
  page.on('will-attach-webview', (event) => {
    event.preventDefault();
  });
  page.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** Keeps every page of the program in place, whoever made it. */
export function keepPagesInPlace(app: Pick<App, 'on'>): void {
  app.on('web-contents-created', (_event, page) => {
    keepInPlace(page);
  });
}
