const key = 'turnwright.token';

/**
 * The token that the local host put in the address (`#t=...`), moved from there into this tab's own memory, so that it
 * is neither shown nor bookmarked; on a reload the one kept before. Null when there is none.
 */
export function takeToken(page: Pick<Window, 'location' | 'history' | 'sessionStorage'>): string | null {
  const found = new URLSearchParams(page.location.hash.slice(1)).get('t');
  if (found === null) return page.sessionStorage.getItem(key);
  page.sessionStorage.setItem(key, found);
  page.history.replaceState(null, '', page.location.pathname + page.location.search);
  return found;
}
