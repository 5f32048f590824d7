import { formatNumber } from '../../quantity/format.ts';
import { candidateOf, densityOf, type Bunch, type Candidate, type Setting } from './candidate.ts';
import type { WireOption } from './wire-option.ts';

/** One thing that would have to give, alone, and how far, with the wire that needs least of it. */
export interface Give {
  readonly what: 'current-density' | 'amps' | 'free-width' | 'fill';
  readonly needed: number;
  readonly given: number;
  readonly unit: string;
  readonly wire: string;
  readonly strands: number;
}

export interface Why {
  readonly text: string;
  readonly gives: readonly Give[];
}

const n = (value: number) => formatNumber(value, 3);

function least(candidates: readonly Candidate[], of: (candidate: Candidate) => number): Candidate | null {
  let best: Candidate | null = null;
  for (const candidate of candidates) if (best === null || of(candidate) < of(best)) best = candidate;
  return best;
}

const isRoomy = ({ freeOut }: Setting, { build }: Candidate) => build <= freeOut * (1 + 1e-9);
const isFilled = ({ mostFill }: Setting, { fill }: Candidate) => fill > mostFill;

/** Width of a window of the same height that takes the build and keeps the fill. */
const widthFor = ({ freeOut, windowWidth, mostFill }: Setting, { build, fill }: Candidate) =>
  Math.max(build + windowWidth - freeOut, (windowWidth * fill) / mostFill);

/** What would have to give where nothing fits: each alone, with numbers. */
export function whyNone(setting: Setting, options: readonly WireOption[], ways: readonly Bunch[]): Why {
  const all = options.flatMap((option) =>
    ways.flatMap((bunch) => {
      const found = candidateOf(setting, option, bunch);
      return found === null ? [] : [found];
    }),
  );
  const give = (
    candidate: Candidate | null,
    what: Give['what'],
    needed: number,
    given: number,
    unit: string,
  ): Give[] =>
    candidate === null ? [] : [{ what, needed, given, unit, wire: candidate.option.name, strands: candidate.strands }];
  const inRoom = all.filter((each) => isRoomy(setting, each) && !isFilled(setting, each));
  const cool = all.filter(({ density }) => density <= setting.mostDensity);
  const densest = least(inRoom, ({ density }) => density);
  const flattest = least(cool, (each) => widthFor(setting, each));
  const emptiest = least(
    cool.filter((each) => isRoomy(setting, each)),
    ({ fill }) => fill,
  );
  const amps = setting.values.loadAmps;
  const gives: readonly Give[] = [
    ...give(densest, 'current-density', densest?.density ?? 0, setting.mostDensity, 'A/mm²'),
    ...give(densest, 'amps', (amps * setting.mostDensity) / (densest?.density ?? 1), amps, 'A'),
    ...give(flattest, 'free-width', flattest === null ? 0 : widthFor(setting, flattest), setting.windowWidth, 'mm'),
    ...give(emptiest, 'fill', emptiest?.fill ?? 0, setting.mostFill, ''),
  ];
  return { gives, text: textOf(setting, options, ways, all.length, gives) };
}

const words: Readonly<Record<Give['what'], (give: Give) => string>> = {
  'current-density': (it) =>
    `the current density would be ${n(it.needed)} A/mm² instead of ${n(it.given)} A/mm² at most`,
  amps: (it) => `or the load may draw ${n(it.needed)} A instead of ${n(it.given)}`,
  'free-width': (it) => `the window would need ${n(it.needed)} mm of free width, ${n(it.given)} mm are there`,
  fill: (it) => `wire would fill ${n(100 * it.needed)} % of the window, ${n(100 * it.given)} % are allowed`,
};

function textOf(
  setting: Setting,
  options: readonly WireOption[],
  ways: readonly Bunch[],
  possible: number,
  gives: readonly Give[],
): string {
  if (possible === 0) {
    const isWide = options.every((option) => option.alongMm > setting.room.freeAlong);
    return isWide
      ? `No turn lies between the margins: ${n(setting.room.freeAlong)} mm are free along the limb.`
      : 'The drop eats every turn that is added: the load is too heavy for these windings.';
  }
  if (gives.length > 0) {
    const said = gives.map((it) =>
      it.what === 'amps' ? words.amps(it) : `with ${it.strands} × ${it.wire} ${words[it.what](it)}`,
    );
    return `Nothing fits. One of these would have to give: ${said.join('; ')}.`;
  }
  const coolest = Math.min(...options.flatMap((option) => ways.map((bunch) => densityOf(setting, option, bunch))));
  return coolest > setting.mostDensity
    ? `Even the thickest wire here would carry ${n(coolest)} A/mm², ${n(setting.mostDensity)} A/mm² are allowed.`
    : 'Nothing fits, and no single thing would make it: the window is too small for this load.';
}
