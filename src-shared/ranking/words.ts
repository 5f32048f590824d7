import { formatNumber } from '../quantity/format.ts';
import type { Aspect, AspectKind } from './aspect.ts';
import { missingWords } from './missing.ts';
import type { Standing, Verdict } from './verdict.ts';

export const aspectNames: Readonly<Record<AspectKind, string>> = {
  mass: 'Power by mass',
  'iron-and-window': 'Iron and window',
  flux: 'Flux',
  window: 'Copper in window',
  heat: 'Heat of the iron',
  circuit: 'Circuit',
  insulation: 'Insulation',
};

export const standingWords: Readonly<Record<Standing, string>> = {
  'will-do': 'Will do',
  'as-far-as-known': 'May do',
  'not-known': 'Not known',
  minutes: 'For minutes only',
  'will-not': 'Will not do',
};

/** How full an aspect is, as a person says it: `82 %`; a word where no share tells. */
export function shareWords({ grade, share }: Aspect): string {
  if (share !== null) return `${share >= 10 ? 'over 1000' : Math.round(100 * share)} %`;
  return grade === 'met' ? 'met' : grade === 'not-met' ? 'not met' : 'not known';
}

const fullest = (aspects: readonly Aspect[]): Aspect | undefined =>
  aspects.toSorted((one, other) => (other.share ?? 0) - (one.share ?? 0))[0];

/** What would have to give for a core that is refused: the amps at which nothing is short, and what else there is. */
function givesOf(refusing: readonly Aspect[], amps: number): string | null {
  const most = refusing.flatMap(({ mostAmps }) => mostAmps ?? []);
  const others = refusing.flatMap(({ gives }) => gives ?? []);
  const fewer =
    most.length === 0 ? [] : [`${formatNumber(Math.min(...most), 2)} A instead of ${formatNumber(amps, 4)} A`];
  const said = [...fewer, ...others];
  return said.length === 0 ? null : said.join('; ');
}

/**
 * Why a core stands where it stands, in a sentence; and what would have to give, null where nothing has to.
 *
 * @param amps - of the need
 */
export function reasonOf(
  { standing, aspects, missing }: Verdict,
  amps: number,
): { readonly words: string; readonly gives: string | null } {
  const of = (...grades: readonly Aspect['grade'][]) => aspects.filter(({ grade }) => grades.includes(grade));
  const refusing = of('not-met', 'minutes');
  const deciding = fullest(standing === 'will-not' ? of('not-met') : standing === 'minutes' ? refusing : of('close'));
  if (deciding !== undefined && standing !== 'not-known') {
    return { words: `${aspectNames[deciding.kind]}: ${deciding.words}`, gives: givesOf(refusing, amps) };
  }
  const [first] = missing;
  const next = first === undefined ? '' : ` ${missingWords[first].what}: ${missingWords[first].tells}`;
  if (standing === 'not-known') return { words: `Nothing says yet what it can do.${next}`, gives: null };
  if (standing === 'as-far-as-known') return { words: `Nothing speaks against it.${next}`, gives: null };
  const tightest = fullest(of('met'));
  const met = of('not-known').length === 0 ? 'Everything is met' : 'All that is known is met';
  if (tightest === undefined) return { words: `${met}.`, gives: null };
  return {
    words: `${met}; the tightest is ${aspectNames[tightest.kind].toLowerCase()}, ${shareWords(tightest)}.`,
    gives: null,
  };
}
