import { tick } from 'svelte';

/** Moves to the first box of a form that was refused, once the refusals are shown. */
export async function focusFirstRefusal(form: HTMLElement): Promise<void> {
  await tick();
  const box = form.querySelector<HTMLElement>('[aria-invalid="true"]');
  box?.focus();
}
