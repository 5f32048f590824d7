import { untrack } from 'svelte';

/** How long a press may hold back what is new, in ms: longer than a click takes, and too short for anything to be missed. */
const longestHeldMs = 400;

/**
 * What moves the page does not move it under a hand: a value that stands still while a button of the mouse, or a finger, is
 * down, so that a click ends where it began. To be called while a component is set up.
 */
export function still<T>(now: () => T): () => T {
  let isPressed = $state(false);
  let shown = $state.raw(untrack(now));
  $effect.pre(() => {
    const next = now();
    if (!isPressed) shown = next;
  });
  $effect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const letGo = (afterMs: number) => {
      clearTimeout(timer);
      timer = setTimeout(() => (isPressed = false), afterMs);
    };
    const press = () => {
      isPressed = true;
      letGo(longestHeldMs);
    };
    // The click itself comes right after the button was let go.
    const release = () => letGo(0);
    addEventListener('pointerdown', press, { capture: true });
    addEventListener('pointerup', release, { capture: true });
    addEventListener('pointercancel', release, { capture: true });
    return () => {
      clearTimeout(timer);
      removeEventListener('pointerdown', press, { capture: true });
      removeEventListener('pointerup', release, { capture: true });
      removeEventListener('pointercancel', release, { capture: true });
    };
  });
  return () => shown;
}
