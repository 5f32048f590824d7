import type { IpcMain, WebContents } from 'electron';
import * as v from 'valibot';
import { contractChannel, type ToBridge } from '../../../src-shared/contract/shell-channels.ts';
import { FromBridge } from '../../../src-shared/contract/shell-bridge.ts';
import type { Connection, Visit } from '../connection.ts';
import { isOwnPage, type Sent } from './own-page.ts';

export interface CarrierOptions {
  readonly ipcMain: Pick<IpcMain, 'on'>;
  readonly isOurs: (contents: WebContents) => boolean;
  /** Takes a connection in; null while the program is being begun again. */
  readonly accept: (connection: Connection) => Visit | null;
  readonly log: (line: string) => void;
}

export interface Carrier {
  /** Ends every link; the pages come back by themselves. */
  endAll(): void;
}

interface Link {
  readonly visit: Visit;
  sent: number;
  taken: number;
}

type Links = Map<number, Link>;

/** Links of one page at once; a page needs one. */
const linksAtMost = 16;

/**
 * Carries the contract over Electron's messages: the same text as over a socket. A link ends when its page is closed,
 * loads anew or crashes. What a page has not yet taken in counts as buffered.
 */
export function carryOverMessages({ ipcMain, isOurs, accept, log }: CarrierOptions): Carrier {
  const pages = new Map<WebContents, Links>();

  function tell(page: WebContents, message: ToBridge) {
    if (!page.isDestroyed()) page.send(contractChannel, message);
  }

  function linksOf(page: WebContents): Links {
    const known = pages.get(page);
    if (known !== undefined) return known;
    const links: Links = new Map();
    pages.set(page, links);
    const endLinks = () => {
      for (const number of [...links.keys()]) end(page, links, number);
    };
    const forgetLinks = () => {
      for (const { visit } of links.values()) visit.closed();
      links.clear();
    };
    // Comes before a navigation is denied, too: a page that stays is told, and opens another link.
    page.on('did-start-navigation', ({ isMainFrame, isSameDocument }) => {
      if (isMainFrame && !isSameDocument) endLinks();
    });
    page.on('render-process-gone', forgetLinks);
    page.once('destroyed', () => {
      forgetLinks();
      pages.delete(page);
    });
    return links;
  }

  function end(page: WebContents, links: Links, number: number) {
    links.get(number)?.visit.closed();
    links.delete(number);
    tell(page, { kind: 'closed', link: number });
  }

  function open(page: WebContents, links: Links, number: number) {
    if (links.has(number)) end(page, links, number);
    const visit = accept({
      send(text) {
        const link = links.get(number);
        if (link?.visit !== visit) return;
        link.sent += text.length;
        tell(page, { kind: 'text', link: number, text });
      },
      close() {
        if (links.get(number)?.visit === visit) end(page, links, number);
      },
      get bufferedAmount() {
        const link = links.get(number);
        return link === undefined ? 0 : link.sent - link.taken;
      },
    });
    if (visit === null) tell(page, { kind: 'closed', link: number });
    else links.set(number, { visit, sent: 0, taken: 0 });
  }

  function hear(page: WebContents, message: FromBridge) {
    const links = linksOf(page);
    const link = links.get(message.link);
    if (message.kind === 'open') {
      if (links.size >= linksAtMost) tell(page, { kind: 'closed', link: message.link });
      else open(page, links, message.link);
    } else if (link === undefined) {
      return;
    } else if (message.kind === 'text') {
      link.visit.message(message.text);
    } else if (message.kind === 'taken') {
      link.taken = Math.min(Math.max(link.taken, message.characters), link.sent);
    } else {
      end(page, links, message.link);
    }
  }

  ipcMain.on(contractChannel, (event: Sent, raw: unknown) => {
    if (!isOwnPage(event, isOurs)) {
      log('A message that does not come from our own page was turned away.');
      return;
    }
    const read = v.safeParse(FromBridge, raw);
    if (read.success) hear(event.sender, read.output);
    else log(`A message of the bridge does not fit: ${v.summarize(read.issues)}`);
  });

  return {
    endAll() {
      for (const [page, links] of pages) for (const number of [...links.keys()]) end(page, links, number);
    },
  };
}
