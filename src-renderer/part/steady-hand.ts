/** A press that moved less than this, in px, was meant for what it began on. */
const stillPx = 6;

/**
 * A click ends where it began although the page moved under the hand meanwhile: a button that slid away between press and
 * release is clicked all the same. Returns what ends it.
 */
export function steadyHand(page: Window): () => void {
  let pressed: { readonly button: HTMLElement; readonly x: number; readonly y: number } | null = null;
  const press = ({ target, button: which, clientX, clientY }: PointerEvent) => {
    // Only the first button of a mouse clicks; a finger counts as it.
    const button = which === 0 && target instanceof Element ? target.closest('button, a') : null;
    pressed = button instanceof HTMLElement ? { button, x: clientX, y: clientY } : null;
  };
  const release = ({ target, clientX, clientY }: PointerEvent) => {
    const was = pressed;
    pressed = null;
    if (was === null || !was.button.isConnected) return;
    const isOnIt = target instanceof Node && was.button.contains(target);
    if (!isOnIt && Math.hypot(clientX - was.x, clientY - was.y) < stillPx) was.button.click();
  };
  page.addEventListener('pointerdown', press, { capture: true });
  page.addEventListener('pointerup', release, { capture: true });
  return () => {
    page.removeEventListener('pointerdown', press, { capture: true });
    page.removeEventListener('pointerup', release, { capture: true });
  };
}
