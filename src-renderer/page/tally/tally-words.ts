import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { nextMilestone, milestonesOf, placeOf, type Milestone } from '../../../src-shared/tally/progress.ts';
import type { Wound } from '../../../src-shared/tally/wound.ts';

/** So many turns before it a tap, the end of a layer or the end is announced. */
const announcedBefore = 3;

/** One turn more; the last of a winding with a half turn is that half. */
export function oneMore({ turns }: Pick<Wound, 'turns'>, counted: number): number {
  return counted < turns && turns - counted < 1 ? turns : counted + 1;
}

/** One turn less, never below none. */
export function oneLess({ turns }: Pick<Wound, 'turns'>, counted: number): number {
  return counted === turns && turns % 1 !== 0 ? Math.floor(turns) : Math.max(0, counted - 1);
}

const turnsWords = (turns: number): string => `${formatNumber(turns)} ${turns === 1 ? 'turn' : 'turns'}`;

/** `layer 2 of 4, 17 of 31`; how many are left where no layers were planned. */
export function layerWords(output: Wound, counted: number): string {
  if (output.layers.length === 0) return `${formatNumber(Math.max(0, output.turns - counted))} to go`;
  const { layer, layers, inLayer, ofLayer } = placeOf(output, counted);
  return `layer ${layer} of ${layers}, ${formatNumber(inLayer)} of ${formatNumber(ofLayer)}`;
}

function doWords(mile: Milestone): string {
  switch (mile.kind) {
    case 'tap':
      return `Tap “${mile.label}” out`;
    case 'layer':
      return `Layer ${mile.next - 1} is full: insulate, begin layer ${mile.next}`;
    case 'end':
      return 'All turns are on';
  }
}

/** What the person is told at a count: something to do now, something that comes, or what comes next. */
export interface Told {
  readonly kind: 'now' | 'soon' | 'later' | 'over';
  readonly text: string;
}

export function toldAt(output: Wound, counted: number): Told {
  if (counted > output.turns) {
    return { kind: 'over', text: `${turnsWords(counted - output.turns)} more than planned.` };
  }
  const here = milestonesOf(output).filter(({ at }) => at === counted);
  const next = nextMilestone(output, counted);
  if (here.length > 0) return { kind: 'now', text: `Now: ${here.map(doWords).join('. ')}.` };
  if (next === null) return { kind: 'now', text: 'All turns are on.' };
  const left = next.at - counted;
  const words = { tap: next.kind === 'tap' ? `tap “${next.label}”` : '', layer: 'end of the layer', end: 'the end' };
  return {
    kind: left <= announcedBefore ? 'soon' : 'later',
    text: `In ${turnsWords(left)}: ${words[next.kind]}.`,
  };
}

/** What is said aloud at a count; null where nothing is. `each`: the number of every turn is spoken. */
export function spokenAt(output: Wound, counted: number, each: boolean): string | null {
  const { kind, text } = toldAt(output, counted);
  if (kind === 'now' || kind === 'over' || (kind === 'soon' && counted > 0)) return `${formatNumber(counted)}. ${text}`;
  return each ? formatNumber(counted) : null;
}
