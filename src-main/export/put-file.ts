import { copyFile, rename, rm } from 'node:fs/promises';

/**
 * Copies a file to a place that a person chose, whole or not at all: what stands there already stays until the copy is
 * complete. Throws what the system says, with nothing half-written left.
 */
export async function putFile(from: string, to: string): Promise<void> {
  const beside = `${to}.part`;
  try {
    await copyFile(from, beside);
    await rename(beside, to);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}
