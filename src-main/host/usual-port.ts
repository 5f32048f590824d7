import { createHash } from 'node:crypto';

/** Below the ports that systems give away by themselves. */
const lowest = 20_000;
const count = 10_000;

/**
 * The port that a data folder is served at, the same at every start. A browser keeps what a page keeps by the address: what
 * was counted while the program was gone, and what was typed and not sent, is there again for the next page. Every folder
 * has its own, so that no page takes up what was meant for another record.
 */
export const usualPort = (folder: string): number =>
  lowest + (createHash('sha256').update(folder).digest().readUInt32BE(0) % count);
