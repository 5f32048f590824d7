/** Where in the program the person is, as the address says it. */
export type Place =
  | { readonly kind: 'shelf' }
  | { readonly kind: 'new-core' }
  | { readonly kind: 'core'; readonly coreId: number; readonly buildId: number | null }
  | { readonly kind: 'edit-core'; readonly coreId: number }
  | { readonly kind: 'bench'; readonly part: string | null }
  | { readonly kind: 'meters' }
  | { readonly kind: 'new-meter' }
  | { readonly kind: 'meter'; readonly meterId: number };

const id = (text: string | undefined) => (text !== undefined && /^[1-9]\d{0,14}$/.test(text) ? Number(text) : null);

/** Reads a place from the part of an address after `#`; anything not known is the shelf. */
export function placeOf(hash: string): Place {
  const [head, second, third, fourth] = hash.replace(/^#?\/?/, '').split('/');
  const number = id(second);
  if (head === 'core' && second === 'new') return { kind: 'new-core' };
  if (head === 'core' && number !== null && third === 'edit') return { kind: 'edit-core', coreId: number };
  if (head === 'core' && number !== null) {
    return { kind: 'core', coreId: number, buildId: third === 'build' ? id(fourth) : null };
  }
  if (head === 'bench') return { kind: 'bench', part: second === undefined || second === '' ? null : second };
  if (head === 'meters' && second === 'new') return { kind: 'new-meter' };
  if (head === 'meters' && number !== null) return { kind: 'meter', meterId: number };
  if (head === 'meters') return { kind: 'meters' };
  return { kind: 'shelf' };
}

/** The address of a place, to be put in `href`. */
export function addressOf(place: Place): string {
  switch (place.kind) {
    case 'shelf':
      return '#/shelf';
    case 'new-core':
      return '#/core/new';
    case 'core':
      return place.buildId === null ? `#/core/${place.coreId}` : `#/core/${place.coreId}/build/${place.buildId}`;
    case 'edit-core':
      return `#/core/${place.coreId}/edit`;
    case 'bench':
      return place.part === null ? '#/bench' : `#/bench/${place.part}`;
    case 'meters':
      return '#/meters';
    case 'new-meter':
      return '#/meters/new';
    case 'meter':
      return `#/meters/${place.meterId}`;
  }
}

/** The place shown, kept in step with the address in both directions. */
export class Route {
  place: Place = $state.raw({ kind: 'shelf' });
  readonly #window: Window;
  readonly #follow = (): void => {
    this.place = placeOf(this.#window.location.hash);
  };

  constructor(page: Window) {
    this.#window = page;
    this.#follow();
    page.addEventListener('hashchange', this.#follow);
  }

  go(place: Place): void {
    this.place = place;
    this.#window.location.hash = addressOf(place);
  }

  stop(): void {
    this.#window.removeEventListener('hashchange', this.#follow);
  }
}
