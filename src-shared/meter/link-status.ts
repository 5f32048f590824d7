/** Where the link to a meter stands. `keyboard`: nothing to link, its values are typed. */
export const linkStates = ['off', 'connecting', 'answering', 'silent', 'lost', 'failed', 'keyboard'] as const;
export type LinkState = (typeof linkStates)[number];

/** Why a link is not answering. Added to, never renamed. */
export const linkReasons = {
  'nothing-heard': 'The port is open, and nothing arrives. Is the meter on and sending? Some adapters need DTR or RTS.',
  'nothing-readable':
    'Something arrives, and none of it can be read. Try the port: is the rate right, and the line as described?',
  'wrong-unit': 'The meter sends another unit than the channel takes. Turn its knob, or choose another meter.',
  'port-lost': 'The port went away: the lead or its adapter was pulled, or lost power. It is tried again by itself.',
  'not-found':
    'There is no such port, or another adapter has its name by now. Plug the meter’s own in, or choose another port. It is tried again by itself.',
  permission: 'This user may not open the port.',
  busy: 'Another program holds the port. Close that program. It is tried again by itself.',
  'open-timeout': 'The port did not open in time. Unplug the adapter and plug it in again.',
  'settings-refused': 'The port does not take these settings. Check rate, data bits, parity and stop bits.',
  'not-a-port': 'This path is not a serial port. Choose another.',
  'open-failed': 'The port could not be opened.',
} as const satisfies Record<string, string>;
export type LinkReason = keyof typeof linkReasons;

/** A link's state at a moment, as plain data. `sinceMs` is on the clock that never steps. */
export interface LinkStatus {
  readonly state: LinkState;
  readonly why: LinkReason | null;
  /** What the person reads: what happened and what to do. */
  readonly sentence: string;
  readonly sinceMs: number;
}

const sentences = {
  off: 'Not in use.',
  connecting: 'Opening the port and waiting for the first line.',
  answering: 'Answering.',
  silent: 'Silent.',
  lost: 'Lost.',
  failed: 'Failed.',
  keyboard: 'Its values are typed.',
} as const satisfies Record<LinkState, string>;

/** A status with its sentence; `detail` (such as both units, or the system's words) stands behind it. */
export function linkStatus(state: LinkState, sinceMs: number, why: LinkReason | null = null, detail = ''): LinkStatus {
  const sentence = why === null ? sentences[state] : linkReasons[why];
  return { state, why, sentence: detail === '' ? sentence : `${sentence} ${detail}`, sinceMs };
}
