/** One page's line to the program, whatever carries it: a WebSocket, or the desktop shell's messages. */
export interface Connection {
  send(text: string): void;
  /** Ends it; the page may come back and is told what it missed. */
  close(reason: string): void;
  /** Characters or bytes handed to `send` that have not left yet. */
  readonly bufferedAmount: number;
}

/** The program's side of one connection: the carrier calls these. */
export interface Visit {
  /** One message as it arrived. Never throws; whatever is wrong with it is answered. */
  message(text: string): void;
  /** The connection is gone. */
  closed(): void;
}
