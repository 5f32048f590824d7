/**
 * Keeps the screen on for as long as a page is shown, where the browser can. It lets go by itself when the page is hidden,
 * and is asked again when it comes back. Gives what ends it.
 */
export function stayAwake(page: Document, { wakeLock }: Partial<Pick<Navigator, 'wakeLock'>>): () => void {
  let lock: Pick<WakeLockSentinel, 'release'> | null = null;
  let isOver = false;
  const ask = async (): Promise<void> => {
    if (wakeLock === undefined || page.visibilityState !== 'visible') return;
    try {
      lock = await wakeLock.request('screen');
      if (isOver) await lock.release();
    } catch {
      // The system may refuse, on a low battery say: then the screen goes dark as it always does.
      lock = null;
    }
  };
  const shown = (): void => void ask();
  page.addEventListener('visibilitychange', shown);
  void ask();
  return () => {
    isOver = true;
    page.removeEventListener('visibilitychange', shown);
    void lock?.release();
  };
}
