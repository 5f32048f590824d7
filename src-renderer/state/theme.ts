import type { Settings } from '../../src-shared/record/settings.ts';

/** Puts the theme on the root element, following the system where the person chose that. Returns what ends it. */
export function applyTheme(theme: Settings['theme'], page: Window): () => void {
  const dark = page.matchMedia('(prefers-color-scheme: dark)');
  const paint = (): void => {
    page.document.documentElement.dataset['theme'] =
      theme === 'dark' || (theme === 'system' && dark.matches) ? 'dark' : 'light';
  };
  paint();
  dark.addEventListener('change', paint);
  return () => dark.removeEventListener('change', paint);
}
