/** What a session held when it was read: `rows` and the two revisions tell whether anything was added since. */
export interface SessionContent {
  /** sha-256 over the canonical lines of all its rows, as 64 hexadecimal digits. */
  readonly contentHash: string;
  readonly rows: number;
  /** The latest row of the core and of any winding of the build that the hash covers; 0 when there is no winding. */
  readonly coreRevisionId: number;
  readonly windingRevisionId: number;
}
