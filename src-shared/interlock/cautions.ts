/** What a caution's text leaves open, and what may stand there. */
export type CautionValue = string | number;

interface CautionLine {
  readonly id: string;
  /** Where and when it shows: once per set-up at that place, reachable as a line afterwards. */
  readonly where: string;
  /** Names in braces are filled in; figures are passed with their unit already chosen by the text. */
  readonly text: string;
}

/** Every caution with its place and words. None of them blocks by itself. */
export const cautions = [
  {
    id: 'c-first',
    where: 'first start; About',
    text: 'This program reads and records. It cannot switch anything off or make anything dead. Rules for mains work differ by place: follow your local code, and ask a licensed electrician where it asks for one.',
  },
  {
    id: 'c-cap',
    where: 'new core from an appliance',
    text: 'A microwave oven keeps thousands of volts in its capacitor after the plug is out. Discharge it through a resistor made for it, then join its terminals. An ordinary meter is not made for that voltage. Not sure? Leave the oven closed.',
  },
  {
    id: 'c-mag',
    where: 'new core from an appliance',
    text: 'Leave the magnetron whole: its pink or white ceramic can be poisonous as dust.',
  },
  {
    id: 'c-unknown',
    where: 'b-volts, any unknown winding',
    text: 'This winding’s turns are not known. With power on it may stand at thousands of volts. Insulate each end alone, or take the winding out before testing.',
  },
  {
    id: 'c-step',
    where: 'T1 table',
    text: '{source} V here puts about {v} V on the {winding}.',
  },
  {
    id: 'c-pins',
    where: 'T1 table when any winding other than the primary is fed',
    text: 'With power on, the plug’s pins will stand at about {v} V. Cover them.',
  },
  {
    id: 'c-core',
    where: 'winding with one end on core',
    text: 'One end of this winding is joined to the core. Without an earth wire the core itself can stand at that winding’s voltage.',
  },
  {
    id: 'c-rcd',
    where: 'supply choice',
    text: 'An RCD/GFCI trips on current to earth. It does not act on current between two ends of an isolated winding.',
  },
  {
    id: 'c-var',
    where: 'supply choice: variable transformer',
    text: 'A common variable transformer does not isolate: its output is joined to the mains at every setting.',
  },
  {
    id: 'c-lamp',
    where: 'series lamp, live',
    text: 'Dim: as expected. Bright and steady: shorted turn, opposed windings or wrong voltage. Power off.',
  },
  {
    id: 'c-inrush',
    where: 'before first full-voltage power',
    text: 'For part of one cycle the current may reach about {i} A. If the breaker opens, find out why before trying again; a lamp or starting at zero avoids it.',
  },
  {
    id: 'c-kick',
    where: 'resistance with a current source',
    text: 'Breaking this current can give a sharp kick on every other winding. Bring it to zero first; keep hands off all ends.',
  },
  {
    id: 'c-hot',
    where: 'live, over 51 °C',
    text: 'Above about 51 °C bare metal burns skin within a minute.',
  },
  {
    id: 'c-attend',
    where: 'heat run start',
    text: 'Stay with it. The alarm can only call you; it cannot switch off.',
  },
  {
    id: 'c-trip',
    where: 'trip',
    text: '{channel} reached {value}, limit {limit}. Switch off at the plug now. Recording goes on.',
  },
  {
    id: 'c-still',
    where: 'power declared off, volts seen',
    text: '{value} V is still there. Do not touch. Switch off and unplug.',
  },
  {
    id: 'c-crash',
    where: 'restart after live',
    text: 'The program stopped while power was declared on. Nothing is known now. Look at the plug, then prove it dead.',
  },
  {
    id: 'c-out50',
    where: 'plan over 50 V',
    text: 'An output over 50 V a.c. needs protection against touch that this program does not judge. Local rules and a licensed person decide.',
  },
  {
    id: 'c-shunt',
    where: 'shunts out',
    text: 'With the shunts out this transformer can feed a much larger fault current. Choose fuse and wire again.',
  },
  {
    id: 'c-fuse',
    where: 'plan fuse note',
    text: 'A starting figure, not a rule. Fuse, cable and cut-out follow your local code.',
  },
  {
    id: 'c-plate',
    where: 'plate, report',
    text: 'Measured by {who} on {date}. No approval is claimed. Use by others, or in a building’s wiring, is a matter for local rules and a licensed person.',
  },
  {
    id: 'c-cut',
    where: 'build sheet, opening the core',
    text: 'Eye and hearing protection; sparks and metal dust. Dust left in a winding conducts: blow out, wipe, measure insulation.',
  },
  {
    id: 'c-varn',
    where: 'build sheet',
    text: 'Varnish gives off flammable vapour until cured. No power until the date noted.',
  },
  {
    id: 'c-prac',
    where: 'practice bench',
    text: 'Practice readings. Nothing here has been measured.',
  },
] as const satisfies readonly CautionLine[];

type Caution = (typeof cautions)[number];
export type CautionId = Caution['id'];

/** The names in braces of a text. */
type Placeholders<Text extends string> = Text extends `${string}{${infer Name}}${infer Rest}`
  ? Name | Placeholders<Rest>
  : never;

type TextOf<Id extends CautionId> = Extract<Caution, { id: Id }>['text'];

/** The values that a caution asks for: none, or exactly its names. */
export type CautionValues<Id extends CautionId> = Readonly<Record<Placeholders<TextOf<Id>>, CautionValue>>;

/** A caution with every open place filled. The compiler asks for exactly the names that its text has. */
export function cautionText<Id extends CautionId>(id: Id, values: CautionValues<Id>): string {
  const text = cautions.find((caution) => caution.id === id)?.text ?? '';
  const given = new Map<string, CautionValue>(Object.entries(values));
  return text.replaceAll(/\{(\w+)\}/g, (whole, name: string) => String(given.get(name) ?? whole));
}
