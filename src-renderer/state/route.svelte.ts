import { lessonIds, type LessonId } from '../../src-shared/practice/lesson/lesson.ts';
import { ways, type Way } from '../../src-shared/joining/way.ts';

/** Where in the program the person is, as the address says it. */
export type Place =
  | { readonly kind: 'shelf' }
  | { readonly kind: 'new-core' }
  | { readonly kind: 'core'; readonly coreId: number; readonly buildId: number | null }
  | { readonly kind: 'edit-core'; readonly coreId: number }
  | { readonly kind: 'bench'; readonly part: string | null }
  /** Without a build: the first that a plan can be made for. `needId`: the need that a new plan starts from. */
  | { readonly kind: 'plan'; readonly buildId: number | null; readonly needId?: number }
  /** Turns counted while a plan is wound. Without an output: the first that is not all on yet. */
  | { readonly kind: 'tally'; readonly planId: number; readonly output: string | null }
  /** Transformers joined: the way, the cores to begin with, and the kept plan that the first of them has its figures from. */
  | {
      readonly kind: 'several';
      readonly way: Way | null;
      readonly coreIds: readonly number[];
      readonly planId?: number;
    }
  /** What was wound on a core; with the version of a plan that it was wound by. */
  | { readonly kind: 'wound'; readonly coreId: number; readonly planRevisionId: number | null }
  | { readonly kind: 'compare'; readonly before: number | null; readonly after: number | null }
  /** `lesson`: the lesson that is looked at. */
  | { readonly kind: 'practice'; readonly lesson: LessonId | null }
  /** `given`: the inputs, as the address holds them. */
  | { readonly kind: 'workings'; readonly name: string | null; readonly given: string | null }
  /** `over`: further runs, laid over it. */
  | { readonly kind: 'run'; readonly runId: number; readonly over: readonly number[] }
  | { readonly kind: 'meters' }
  | { readonly kind: 'new-meter' }
  | { readonly kind: 'meter'; readonly meterId: number };

const id = (text: string | undefined) => (text !== undefined && /^[1-9]\d{0,14}$/.test(text) ? Number(text) : null);

const text = (part: string | undefined) => (part === undefined || part === '' ? null : part);

/** A text of the record as an address holds it; what cannot be one is nothing. */
function decoded(part: string | undefined): string | null {
  try {
    return text(part === undefined ? undefined : decodeURIComponent(part));
  } catch {
    return null;
  }
}

/** Reads a place from the part of an address after `#`; anything not known is the shelf. */
export function placeOf(hash: string): Place {
  const [head, second, third, fourth] = hash.replace(/^#?\/?/, '').split('/');
  const number = id(second);
  if (head === 'core' && second === 'new') return { kind: 'new-core' };
  if (head === 'core' && number !== null && third === 'edit') return { kind: 'edit-core', coreId: number };
  if (head === 'core' && number !== null) {
    return { kind: 'core', coreId: number, buildId: third === 'build' ? id(fourth) : null };
  }
  if (head === 'run' && number !== null) {
    const over = third === 'over' ? (fourth ?? '').split(',').flatMap((text) => id(text) ?? []) : [];
    return { kind: 'run', runId: number, over };
  }
  if (head === 'bench') return { kind: 'bench', part: second === undefined || second === '' ? null : second };
  if (head === 'plan' && second === 'several') {
    const named = (fourth ?? '').split(',');
    const coreIds = named.flatMap((one) => id(one) ?? []);
    const planId = id(named.find((one) => one.startsWith('plan-'))?.replace('plan-', ''));
    const way = ways.find((way) => way === third) ?? null;
    return { kind: 'several', way, coreIds, ...(planId === null ? {} : { planId }) };
  }
  if (head === 'plan') {
    const needId = id(third?.replace(/^need-/, ''));
    return { kind: 'plan', buildId: id(second?.replace(/^build-/, '')), ...(needId === null ? {} : { needId }) };
  }
  if (head === 'tally' && number !== null) return { kind: 'tally', planId: number, output: decoded(third) };
  if (head === 'wound') {
    const coreId = id(second?.replace(/^core-/, ''));
    if (coreId !== null) return { kind: 'wound', coreId, planRevisionId: id(third?.replace(/^plan-/, '')) };
  }
  if (head === 'compare') return { kind: 'compare', before: number, after: id(third) };
  if (head === 'practice') return { kind: 'practice', lesson: lessonIds.find((one) => one === second) ?? null };
  if (head === 'workings') return { kind: 'workings', name: text(second), given: text(third) };
  if (head === 'meters' && second === 'new') return { kind: 'new-meter' };
  if (head === 'meters' && number !== null) return { kind: 'meter', meterId: number };
  if (head === 'meters') return { kind: 'meters' };
  return { kind: 'shelf' };
}

function severalAddress({ way, coreIds, planId }: Place & { kind: 'several' }): string {
  if (way === null) return '#/plan/several';
  const named = [...coreIds, ...(planId === undefined ? [] : [`plan-${planId}`])].join(',');
  return ['#/plan/several', way, ...(named === '' ? [] : [named])].join('/');
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
    case 'plan':
      if (place.buildId === null) return '#/plan';
      return `#/plan/build-${place.buildId}${place.needId === undefined ? '' : `/need-${place.needId}`}`;
    case 'tally':
      return `#/tally/${place.planId}${place.output === null ? '' : `/${encodeURIComponent(place.output)}`}`;
    case 'several':
      return severalAddress(place);
    case 'wound':
      return `#/wound/core-${place.coreId}${place.planRevisionId === null ? '' : `/plan-${place.planRevisionId}`}`;
    case 'compare':
      return place.before === null || place.after === null ? '#/compare' : `#/compare/${place.before}/${place.after}`;
    case 'practice':
      return place.lesson === null ? '#/practice' : `#/practice/${place.lesson}`;
    case 'workings':
      return ['#/workings', place.name, place.given].filter((part) => part !== null).join('/');
    case 'run':
      return place.over.length === 0 ? `#/run/${place.runId}` : `#/run/${place.runId}/over/${place.over.join(',')}`;
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

  /** What goes on from here once something is done; somebody who went elsewhere meanwhile stays there. */
  onwards(): (to: Place) => void {
    const from = addressOf(this.place);
    return (to) => {
      if (addressOf(this.place) === from) this.go(to);
    };
  }

  stop(): void {
    this.#window.removeEventListener('hashchange', this.#follow);
  }
}
