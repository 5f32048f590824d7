import { formatNumber } from '../quantity/format.ts';
import type { Winding } from '../record/build.ts';
import type { SessionFields, SessionRevision, Supply } from '../record/session.ts';

/** What was put right about a session: when, why, and each thing as it is and as it was. */
export interface SessionCorrection {
  readonly wallMs: number;
  readonly reason: string;
  readonly text: string;
}

type Named = readonly (readonly [name: string, text: string])[];

/** The facts of a session as texts, so that what differs can be told. */
function factsOf(fields: SessionFields, supplyText: (supply: Supply) => string, windings: readonly Winding[]): Named {
  const { supply, fedWindingId, ambientCelsius, who, note } = fields;
  const fed = windings.find(({ windingId }) => windingId === fedWindingId)?.fields.label ?? 'not known';
  return [
    ['supply', supplyText(supply)],
    ['fed winding', fed],
    ['ambient', ambientCelsius === undefined ? 'not noted' : `${formatNumber(ambientCelsius)} °C`],
    ['measured by', who],
    ['note', note ?? 'none'],
  ];
}

/**
 * The corrections of a session, oldest first, each against what stood before it. `revisions` are all rows of it in order;
 * the first is what was said when it was opened.
 */
export function correctionsOf(
  revisions: readonly SessionRevision[],
  supplyText: (supply: Supply) => string,
  windings: readonly Winding[],
): readonly SessionCorrection[] {
  return revisions.flatMap(({ fields, reason, wallMs }, index) => {
    const before = revisions[index - 1];
    if (before === undefined) return [];
    const was = new Map(factsOf(before.fields, supplyText, windings));
    const changed = factsOf(fields, supplyText, windings).filter(([name, text]) => was.get(name) !== text);
    const text = changed.map(([name, now]) => `${name} ${now}, was ${was.get(name) ?? 'not said'}`).join('; ');
    return [{ wallMs, reason: reason ?? 'no reason', text: text === '' ? 'nothing that is told' : text }];
  });
}
