import * as v from 'valibot';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';
import { SessionFields } from '../../../src-shared/record/session.ts';
import type { Settings } from '../../../src-shared/record/settings.ts';
import { supplyRefusal, type SupplyChoice } from './supply-choices.ts';

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

const wrongNumber = 'Type a number, such as 24 or 0,5.';

/** A session as it stands in the form: the person's own texts until they are read. */
export class SessionForm {
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
  ambient = $state('');
  who = $state('');
  note = $state('');
  refusals = $state.raw<Refusals>({});

  constructor(settings: Settings, buildId: number | null) {
    this.hertz = settings.mainsHertz;
    this.who = settings.who;
    this.buildId = buildId ?? 0;
  }

  /** What was said of a session before, to be put right. */
  take({ buildId, supply, fedWindingId, ambientCelsius, who, note }: SessionFields): void {
    const text = (value: number | undefined) => (value === undefined ? '' : String(value));
    this.buildId = buildId;
    this.kind = supply.kind;
    this.volts = text(supply.volts);
    this.hertz = supply.hertz;
    this.amps = text(supply.ampsAtMost);
    this.earthed = supply.earthed;
    this.rcd = supply.rcd;
    this.fuse = text(supply.fuseAmps);
    this.fedWindingId = fedWindingId ?? 0;
    this.ambient = text(ambientCelsius);
    this.who = who;
    this.note = note ?? '';
  }

  /** The volts as typed, when they are a number above zero. */
  get typedVolts(): number | null {
    const parsed = parseNumber(this.volts);
    return parsed.ok && parsed.value > 0 ? parsed.value : null;
  }

  /** The session's fields, or null with every refusal at its field. */
  read(): SessionFields | null {
    const refusals: Refusals = {};
    const number = (key: SessionKey, text: string): number | undefined => {
      if (text.trim() === '') return undefined;
      const parsed = parseNumber(text);
      if (!parsed.ok) refusals[key] = wrongNumber;
      return parsed.ok ? parsed.value : undefined;
    };
    const kindRefusal = supplyRefusal(this.kind);
    if (kindRefusal !== null) refusals.kind = kindRefusal;
    if (this.buildId === 0) refusals.build = 'Choose the core, and which build of it is on the bench.';
    if (this.volts.trim() === '') refusals.volts = 'Type the highest volts that this supply can give.';
    if (this.who.trim() === '') refusals.who = 'Type who is at the bench.';
    const [ampsAtMost, fuseAmps] = [number('amps', this.amps), number('fuse', this.fuse)];
    const ambientCelsius = number('ambient', this.ambient);
    const parsed = v.safeParse(SessionFields, {
      buildId: this.buildId,
      supply: {
        kind: this.kind,
        volts: number('volts', this.volts),
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
    for (const issue of parsed.issues ?? []) {
      const key = keyOfPath[v.getDotPath(issue) ?? ''];
      if (key !== undefined) refusals[key] ??= issue.message;
    }
    this.refusals = refusals;
    return parsed.success && Object.keys(refusals).length === 0 ? parsed.output : null;
  }
}
