import type { WebContents, WebFrameMain } from 'electron';
import { pageOrigin } from './app-scheme.ts';

/** The parts of a message's event that say who sent it. */
export interface Sent {
  readonly sender: WebContents;
  readonly senderFrame: WebFrameMain | null;
}

/** True when a message was sent by the main frame of one of our windows, while our own page was in it. */
export function isOwnPage({ sender, senderFrame }: Sent, isOurs: (contents: WebContents) => boolean): boolean {
  return (
    senderFrame !== null && isOurs(sender) && senderFrame === sender.mainFrame && senderFrame.origin === pageOrigin
  );
}
