/** Whether a key belongs to something that is typed into, or to a dialog, or comes with a modifier. */
export function isTyping(event: KeyboardEvent): boolean {
  const { target } = event;
  if (event.ctrlKey || event.altKey || event.metaKey) return true;
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName) || target.closest('dialog') !== null)
  );
}
