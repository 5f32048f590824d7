/** What a key does while turns are counted; null where it is none of the page’s. */
export type TallyKey = 'count' | 'back' | 'pause' | null;

/** Keys that no foot switch may take: they have work of their own everywhere. */
const reserved: ReadonlySet<string> = new Set(['F8', 'Tab', 'Shift', 'Control', 'Alt', 'Meta', 'Backspace']);
export const canBeFootKey = (key: string): boolean => !reserved.has(key);

/** Something that takes keys of its own has them: a box, a choice, another button, a link, a dialog. */
function hasOwnKeys(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  const own = target.closest('input, select, textarea, button, a, dialog, [contenteditable]');
  return own !== null && !own.hasAttribute('data-count');
}

export function tallyKey(event: KeyboardEvent, footKey: string | null): TallyKey {
  if (event.ctrlKey || event.altKey || event.metaKey) return null;
  if (footKey !== null && event.key === footKey && footKey.length > 1) return 'count';
  if (hasOwnKeys(event.target)) return null;
  if (event.key === ' ' || event.key === 'Enter' || event.key === footKey) return 'count';
  if (event.key === 'Backspace') return 'back';
  return event.key === 'Escape' ? 'pause' : null;
}
