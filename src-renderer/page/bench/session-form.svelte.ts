import * as v from 'valibot';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { Build } from '../../../src-shared/record/build.ts';
import { SessionFields } from '../../../src-shared/record/session.ts';
import type { Settings } from '../../../src-shared/record/settings.ts';
import { boundsOf, boxText, readQuantity, type Asked } from '../../part/read-quantity.ts';
import { supplyOptions, supplyRefusal, type SupplyChoice } from './supply-choices.ts';

type SessionKey = 'build' | 'kind' | 'volts' | 'amps' | 'fuse' | 'ambient' | 'who';
type Refusals = Partial<Record<SessionKey, string>>;

/** Where a refusal by the record's own schema is shown. */
const keyOfPath: Readonly<Record<string, SessionKey>> = {
  buildId: 'build',
  'supply.kind': 'kind',
  'supply.volts': 'volts',
  'supply.ampsAtMost': 'amps',
  'supply.fuseAmps': 'fuse',
  ambientCelsius: 'ambient',
  who: 'who',
};

const text = v.string();
const { earthed, rcd, hertz, volts, ampsAtMost, fuseAmps } = SessionFields.entries.supply.entries;

/** What the boxes of the form ask. */
const sessionAsked = {
  volts: { name: 'Highest volts', unit: 'V', ...boundsOf(volts) },
  amps: { name: 'Amps at most', unit: 'A', ...boundsOf(ampsAtMost.wrapped) },
  fuse: { name: 'Fuse', unit: 'A', ...boundsOf(fuseAmps.wrapped) },
  ambient: { name: 'Room temperature', unit: '°C', ...boundsOf(SessionFields.entries.ambientCelsius.wrapped) },
} as const satisfies Partial<Record<SessionKey, Asked>>;

/** The boxes of the form as a reload brings them back. */
export const SessionBoxes = v.strictObject({
  buildId: v.number(),
  kind: v.picklist(supplyOptions.map(({ value }) => value)),
  volts: text,
  hertz,
  amps: text,
  earthed,
  rcd,
  fuse: text,
  fedWindingId: v.number(),
  offeredFor: text,
  ambient: text,
  who: text,
  note: text,
});
export type SessionBoxes = v.InferOutput<typeof SessionBoxes>;

/** A session as it stands in the form: the person's own texts until they are read, in the units chosen when it was made. */
export class SessionForm {
  readonly system: UnitSystem;
  /** 0: none chosen. */
  buildId = $state(0);
  kind = $state<SupplyChoice>('isolated-low-voltage');
  volts = $state('');
  hertz = $state<50 | 60>(50);
  amps = $state('');
  earthed = $state<SessionFields['supply']['earthed']>('not-known');
  rcd = $state<SessionFields['supply']['rcd']>('not-known');
  fuse = $state('');
  /** 0: not known which. */
  fedWindingId = $state(0);
  /** The build and windings that the fed one was offered for. */
  offeredFor = $state('');
  ambient = $state('');
  who = $state('');
  note = $state('');
  refusals = $state.raw<Refusals>({});

  constructor(settings: Settings) {
    this.system = settings.units;
    this.hertz = settings.mainsHertz;
    this.who = settings.who;
  }

  snapshot(): SessionBoxes {
    const { buildId, kind, volts, hertz, amps, earthed, rcd, fuse, ambient, who, note } = this;
    const { fedWindingId, offeredFor } = this;
    return { buildId, kind, volts, hertz, amps, earthed, rcd, fuse, ambient, who, note, fedWindingId, offeredFor };
  }

  restore(boxes: SessionBoxes): void {
    Object.assign(this, boxes);
  }

  /** Another build is on the bench, or it has other windings: its primary is offered once; what is chosen then stands. */
  offerFed({ buildId, windings }: Build): void {
    const offered = JSON.stringify([buildId, windings.map(({ windingId }) => windingId)]);
    if (this.offeredFor === offered) return;
    this.offeredFor = offered;
    if (windings.some(({ windingId }) => windingId === this.fedWindingId)) return;
    this.fedWindingId = windings.find(({ fields }) => fields.role === 'primary')?.windingId ?? 0;
  }

  /** What was said of a session before, to be put right. */
  take({ buildId, supply, fedWindingId, ambientCelsius, who, note }: SessionFields): void {
    const text = (key: keyof typeof sessionAsked, value: number | undefined) =>
      boxText(value, sessionAsked[key].unit, this.system);
    this.buildId = buildId;
    this.kind = supply.kind;
    this.volts = text('volts', supply.volts);
    this.hertz = supply.hertz;
    this.amps = text('amps', supply.ampsAtMost);
    this.earthed = supply.earthed;
    this.rcd = supply.rcd;
    this.fuse = text('fuse', supply.fuseAmps);
    this.fedWindingId = fedWindingId ?? 0;
    this.ambient = text('ambient', ambientCelsius);
    this.who = who;
    this.note = note ?? '';
  }

  /** The volts as typed, when they are a number above zero. */
  get typedVolts(): number | null {
    const read = readQuantity(this.volts, sessionAsked.volts, this.system);
    return read.kind === 'value' ? read.value : null;
  }

  /** The session's fields, or null with every refusal at its field. */
  read(): SessionFields | null {
    const refusals: Refusals = {};
    const number = (key: keyof typeof sessionAsked): number | undefined => {
      const read = readQuantity(this[key], sessionAsked[key], this.system);
      if (read.kind === 'refused') refusals[key] = read.message;
      return read.kind === 'value' ? read.value : undefined;
    };
    const kindRefusal = supplyRefusal(this.kind);
    if (kindRefusal !== null) refusals.kind = kindRefusal;
    if (this.buildId === 0) refusals.build = 'Choose the core, and which build of it is on the bench.';
    if (this.volts.trim() === '') refusals.volts = 'Type the highest volts that this supply can give.';
    if (this.who.trim() === '') refusals.who = 'Type who is at the bench.';
    const [ampsAtMost, fuseAmps, ambientCelsius] = [number('amps'), number('fuse'), number('ambient')];
    const parsed = v.safeParse(SessionFields, {
      buildId: this.buildId,
      supply: {
        kind: this.kind,
        volts: number('volts'),
        hertz: this.hertz,
        earthed: this.earthed,
        rcd: this.rcd,
        ...(ampsAtMost === undefined ? {} : { ampsAtMost }),
        ...(fuseAmps === undefined ? {} : { fuseAmps }),
      },
      fedWindingId: this.fedWindingId === 0 ? null : this.fedWindingId,
      ...(ambientCelsius === undefined ? {} : { ambientCelsius }),
      who: this.who,
      ...(this.note.trim() === '' ? {} : { note: this.note.trim() }),
    });
    for (const issue of parsed.issues ?? []) put(refusals, v.getDotPath(issue) ?? '', issue.message);
    this.refusals = refusals;
    return parsed.success && Object.keys(refusals).length === 0 ? parsed.output : null;
  }

  /** Puts a refusal of the program at its box. True when there is one for it. */
  refuse(path: string, message: string): boolean {
    const refusals = { ...this.refusals };
    const isPlaced = put(refusals, path.replace(/^fields\./, ''), message);
    this.refusals = refusals;
    return isPlaced;
  }
}

function put(refusals: Refusals, path: string, message: string): boolean {
  const key = keyOfPath[path];
  if (key !== undefined) refusals[key] ??= message;
  return key !== undefined;
}
