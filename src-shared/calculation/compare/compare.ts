import { caution, line, refuse, worked, type Caution, type Refusal } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { example } from './example.ts';
import { compareInput, type CompareInput, type Item, type ResultSet } from './input.ts';
import { judge, notComparable, type Compared, type Judged, type Verdict } from './judge.ts';

export interface CompareResults {
  /** In the order of the set before, then what only the set after has. */
  readonly quantities: readonly Compared[];
  readonly counts: { readonly changed: number; readonly noVisibleChange: number; readonly notComparable: number };
}

function twice({ results }: ResultSet, side: 'before' | 'after'): Refusal | null {
  const seen = new Set<string>();
  for (const [index, { quantity }] of results.entries()) {
    if (seen.has(quantity)) {
      return refuse('conflict', `"${quantity}" is there twice.`, `${side}.results.${index}.quantity`);
    }
    seen.add(quantity);
  }
  return null;
}

/** What else differs between the two builds: not a reason against comparing, but a part of whatever changed. */
function alsoDiffers({ before, after }: CompareInput): readonly Caution[] {
  const said = (word: string | undefined) => (word === undefined || word === 'not-known' ? null : word);
  return (['joint', 'shunts'] as const).flatMap((what) => {
    const [one, other] = [said(before[what]), said(after[what])];
    if (one === other) return [];
    const words = what === 'joint' ? 'The joint of the core' : 'The magnetic shunts';
    return [
      caution(
        `${what}-differs`,
        `${words}: ${one ?? 'not known'} before, ${other ?? 'not known'} after. Whatever that does is in the differences.`,
      ),
    ];
  });
}

/** From so many on, one false "changed" is no longer a rare thing. */
const many = 5;

function cautionsOf(sets: CompareInput, judged: readonly Judged[]): readonly Caution[] {
  const compared = judged.filter(({ compared: { verdict } }) => verdict !== 'not-comparable');
  const allowedFor = judged.flatMap((each) => (each.isVoltsAllowedFor ? [each.compared.quantity] : []));
  const hasCondition = [sets.before, sets.after].some(
    ({ conditions, results }) => conditions !== undefined || results.some((each) => each.conditions !== undefined),
  );
  return [
    ...(allowedFor.length === 0
      ? []
      : [
          caution(
            'volts-allowed-for',
            `The supply volts differ a little, and it was not said with which power of them these go: ${allowedFor.join(', ')}. A sixth power was allowed for, so only a larger change shows.`,
          ),
        ]),
    ...alsoDiffers(sets),
    ...(hasCondition
      ? []
      : [
          caution(
            'conditions-not-given',
            'No volts, hertz or temperatures were noted: that both were tested alike is taken on trust.',
          ),
        ]),
    ...(compared.length >= many
      ? [
          caution(
            'many-compared',
            `${compared.length} quantities were compared: where nothing has changed, one in twenty is still called changed.`,
          ),
        ]
      : []),
  ];
}

function run(sets: CompareInput) {
  const repeated = twice(sets.before, 'before') ?? twice(sets.after, 'after');
  if (repeated !== null) return repeated;
  const { before, after } = sets;
  const pairs = before.results.flatMap((one) => {
    const other = after.results.find(({ quantity }) => quantity === one.quantity);
    return other === undefined ? [] : [{ one, judged: judge(one, other, sets) }];
  });
  if (pairs.length === 0) {
    return refuse('not-determined', 'The two sets have no quantity in common.', 'after.results');
  }
  const only = (item: Item, side: 'before' | 'after') =>
    notComparable(
      item,
      { before: side === 'before' ? item.value.value : null, after: side === 'after' ? item.value.value : null },
      { reason: 'only-in-one', why: `It is only in the set ${side}.` },
    );
  const quantities = [
    ...before.results.map((item) => pairs.find(({ one }) => one === item)?.judged.compared ?? only(item, 'before')),
    ...after.results
      .filter((item) => !before.results.some(({ quantity }) => quantity === item.quantity))
      .map((item) => only(item, 'after')),
  ];
  const count = (verdict: Verdict) => quantities.filter((each) => each.verdict === verdict).length;
  const counts = {
    changed: count('changed'),
    noVisibleChange: count('no-visible-change'),
    notComparable: count('not-comparable'),
  };
  const judged = pairs.map((pair) => pair.judged);
  return worked(
    { quantities, counts } satisfies CompareResults,
    [
      ...judged.flatMap(({ working }) => working),
      line(
        'n',
        'quantities compared',
        `${counts.changed} changed + ${counts.noVisibleChange} not visibly`,
        counts.changed + counts.noVisibleChange,
        '',
      ),
    ],
    cautionsOf(sets, judged),
  );
}

export const compare = defineCalculation({
  name: 'compare',
  title: 'Has it really changed',
  version: 1,
  sources: [
    'Uncertainty of a difference with what both have in common: JCGM 100:2008 (GUM), 5.2.2 and F.1.2.3',
    'Powers of the volts near the knee, and how far conditions may differ: common practice, no source',
  ],
  input: compareInput,
  example,
  run,
});
