import type { FromPage } from '../../src-shared/contract/envelope.ts';

/** What a transport tells. `closed` comes once, last, also when the link never opened. */
export interface Listener {
  readonly opened: () => void;
  /** A message as a plain object, not yet checked. */
  readonly heard: (message: unknown) => void;
  readonly closed: () => void;
}

/** One link to the program. Sending on a link that is closed does nothing: `closed` was told, or will be. */
export interface Link {
  readonly send: (message: FromPage) => void;
  readonly close: () => void;
}

/** Opens one link; called again for every further try. The only thing that differs between hosts. */
export type Transport = (listener: Listener) => Link;
