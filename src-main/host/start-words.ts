/** What the desktop window says on standard output of how its start went, a line each; the launcher listens for them. */
export const startWords = {
  shown: 'Turnwright is in its window.',
  raised: 'Turnwright is open already; its window is in front now.',
  /** Followed by the reason. */
  refused: 'Turnwright cannot start: ',
} as const;
