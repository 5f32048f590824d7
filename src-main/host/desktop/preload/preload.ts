import { contextBridge, ipcRenderer } from 'electron';
import type { FromBridge, PaperRequest } from '../../../../src-shared/contract/shell-bridge.ts';
import {
  bridgeName,
  contractChannel,
  paperChannel,
  type ShellBridge,
  type ToBridge,
} from '../../../../src-shared/contract/shell-channels.ts';

interface OpenLink {
  readonly heard: (text: string) => void;
  readonly closed: () => void;
  /** Characters that the page has taken in. */
  taken: number;
}

const links = new Map<number, OpenLink>();
let opened = 0;

const tell = (message: FromBridge) => {
  ipcRenderer.send(contractChannel, message);
};
const ask = (request: PaperRequest) => ipcRenderer.invoke(paperChannel, request);

ipcRenderer.on(contractChannel, (_event, message: ToBridge) => {
  const link = links.get(message.link);
  if (link === undefined) return;
  if (message.kind === 'closed') {
    links.delete(message.link);
    link.closed();
    return;
  }
  try {
    link.heard(message.text);
  } finally {
    // Told only after the page took it: so the program knows a slow page.
    link.taken += message.text.length;
    tell({ kind: 'taken', link: message.link, characters: link.taken });
  }
});

const bridge: ShellBridge = {
  open(heard, closed) {
    opened += 1;
    links.set(opened, { heard, closed, taken: 0 });
    tell({ kind: 'open', link: opened });
    return opened;
  },
  send(link, text) {
    tell({ kind: 'text', link, text });
  },
  close(link) {
    tell({ kind: 'close', link });
  },
  print: () => ask({ kind: 'print' }),
  savePdf: (name) => ask({ kind: 'pdf', name }),
};

contextBridge.exposeInMainWorld(bridgeName, bridge);
