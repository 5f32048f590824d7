import type { Outcome } from './failure.ts';
import type { Printed } from './shell-bridge.ts';

/** The name under which a page in the desktop window finds its bridge. */
export const bridgeName = 'turnwright';

/** Carries the contract, both ways. */
export const contractChannel = 'turnwright:contract';

/** Asks for printing; answered. */
export const paperChannel = 'turnwright:paper';

/** What the program says to the bridge of a page. */
export type ToBridge =
  | { readonly kind: 'text'; readonly link: number; readonly text: string }
  /** The link is gone; the page may open another. */
  | { readonly kind: 'closed'; readonly link: number };

/** Everything that a page in the desktop window is given: named functions, and nothing else. */
export interface ShellBridge {
  /** Opens a link to the program and returns its number. `closed` is told once, last. */
  readonly open: (heard: (text: string) => void, closed: () => void) => number;
  readonly send: (link: number, text: string) => void;
  readonly close: (link: number) => void;
  readonly print: () => Promise<Outcome<Printed>>;
  /** Saves the page as a PDF where the person says; `name` is what the file is offered as. */
  readonly savePdf: (name: string) => Promise<Outcome<Printed>>;
}
