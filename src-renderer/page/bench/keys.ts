/** Whether a key belongs to something that is typed into or chosen from, or to a dialog, or comes with a modifier. */
export function isTyping(event: KeyboardEvent): boolean {
  const { target } = event;
  if (event.ctrlKey || event.altKey || event.metaKey) return true;
  if (!(target instanceof HTMLElement)) return false;
  // The far view takes the keys of the bench through.
  if (target.closest('dialog:not([data-keys=bench])') !== null || target.isContentEditable) return true;
  if (target instanceof HTMLInputElement) return target.type !== 'checkbox' && target.type !== 'radio';
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement;
}
