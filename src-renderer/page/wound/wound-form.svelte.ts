import { addedKey } from '../../../src-shared/tally/wound.ts';
import * as v from 'valibot';
import type { Failure } from '../../../src-shared/contract/failure.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { BuildFields, type Build, type WindingFields } from '../../../src-shared/record/build.ts';
import type { PlanVersion, Tally } from '../../../src-shared/record/plan.ts';
import { primaryOf } from '../../../src-shared/record/primary.ts';
import { windingsOff } from '../../../src-shared/record/windings-off.ts';
import { KeptRow, NewRow, rowTexts, type RowRead } from './wound-row.svelte.ts';

/** The plan that a build is wound by: one of its versions, and how far the count came. */
export interface WoundBy {
  readonly version: PlanVersion;
  readonly tallies: readonly Tally[];
}

const text = v.string();
/** The form as a reload brings it back. */
export const WoundSnapshot = v.strictObject({
  title: text,
  joint: BuildFields.entries.joint,
  shunts: BuildFields.entries.shunts,
  separation: text,
  varnish: text,
  curedOn: text,
  note: text,
  kept: v.array(v.strictObject({ windingId: v.number(), isKept: v.boolean(), added: text })),
  added: v.array(v.strictObject({ output: v.nullable(text), ...rowTexts })),
});
export type WoundSnapshot = v.InferOutput<typeof WoundSnapshot>;

/**
 * What the next build is like, as the person types it. Begins with everything as it was; with a plan, as it was planned: its
 * outputs wound on at the count that was kept, its turns added to the primary, other windings taken off.
 */
export class WoundForm {
  title = $state('');
  joint = $state<BuildFields['joint']>('not-known');
  shunts = $state<BuildFields['shunts']>('not-known');
  separation = $state('');
  varnish = $state('');
  curedOn = $state('');
  note = $state('');
  refusals = $state<Record<string, string>>({});
  added = $state.raw<readonly NewRow[]>([]);
  readonly system: UnitSystem;
  readonly before: Build | undefined;
  readonly by: WoundBy | null;
  readonly kept: readonly KeptRow[];
  readonly #untouched: string;

  constructor(system: UnitSystem, before: Build | undefined, by: WoundBy | null) {
    this.system = system;
    this.before = before;
    this.by = by;
    this.joint = before?.fields.joint ?? 'not-known';
    this.shunts = before?.fields.shunts ?? 'not-known';
    this.separation = before?.fields.separation ?? '';
    const plan = by?.version.fields ?? null;
    this.title = plan?.title ?? '';
    const primary = primaryOf(before)?.windingId;
    const countedOf = (key: string): number | null => by?.tallies.find((tally) => tally.output === key)?.turns ?? null;
    this.kept = (before?.windings ?? []).map(({ windingId, fields }) =>
      windingId === primary && plan !== null
        ? new KeptRow(windingId, fields, plan.addedTurns, plan.addedTurns > 0 ? countedOf(addedKey) : null)
        : new KeptRow(windingId, fields, null, null),
    );
    const off = plan === null ? new Set<number>() : windingsOff(plan);
    for (const { row, role } of this.kept.map((row) => ({ row, role: row.fields.role }))) {
      // A plan that does not say which come off has its outputs in their place.
      row.isKept = off === null ? role === 'primary' || role === 'test-coil' : !off.has(row.windingId);
    }
    this.added = (plan?.outputs ?? []).map((output) => new NewRow(system, output, countedOf(output.key)));
    this.#untouched = JSON.stringify(this.snapshot());
  }

  /** Something stands otherwise than it began. */
  get isTouched(): boolean {
    return JSON.stringify(this.snapshot()) !== this.#untouched;
  }

  snapshot(): WoundSnapshot {
    const { title, joint, shunts, separation, varnish, curedOn, note } = this;
    return {
      ...{ title, joint, shunts, separation, varnish, curedOn, note },
      kept: this.kept.map(({ windingId, isKept, added }) => ({ windingId, isKept, added })),
      added: this.added.map((row) => ({ output: row.planned?.key ?? null, ...row.texts })),
    };
  }

  /** The form as a snapshot has it; windings and outputs that are no longer there are left out. */
  restore({ kept, added, ...words }: WoundSnapshot): void {
    Object.assign(this, words);
    for (const row of this.kept) {
      const left = kept.find(({ windingId }) => windingId === row.windingId);
      if (left !== undefined) Object.assign(row, { isKept: left.isKept, added: left.added });
    }
    this.added = added.map(({ output, ...texts }) => {
      const planned = this.by?.version.fields.outputs.find(({ key }) => key === output) ?? null;
      const row = new NewRow(this.system, planned, null);
      row.restore(texts);
      return row;
    });
  }

  /** The number that the build will have, one after the latest. */
  get number(): number {
    return (this.before?.number ?? 0) + 1;
  }

  /** What of the core is otherwise than the plan has it; null while nothing is. */
  get jointDifference(): string | null {
    const { by, before } = this;
    if (by === null || before === undefined) return null;
    const isReMade = this.joint !== before.fields.joint;
    if (by.version.fields.opening === 'closed' && isReMade)
      return 'Planned: the core stays closed, its joint as it was.';
    if (by.version.fields.opening === 'opened' && !isReMade) {
      return 'Planned: the core is opened. Say how it is joined now, unless it is as it was.';
    }
    return null;
  }

  addWinding(): void {
    this.added = [...this.added, new NewRow(this.system, null, null)];
  }

  dropWinding(id: number): void {
    this.added = this.added.filter((row) => row.id !== id);
  }

  /** The build and its windings as they are to be kept; null, with a refusal at each field, when something is missing. */
  read(): { readonly fields: BuildFields; readonly windings: WindingFields[] } | null {
    const refusals: Record<string, string> = {};
    if (this.title.trim() === '') {
      refusals['title'] = 'Say what was changed, such as “high-voltage winding removed” or “12 primary turns added”.';
    }
    const cured = this.curedOn.trim();
    if (cured !== '' && !v.is(BuildFields.entries.curedOn, cured)) {
      refusals['curedOn'] = 'A date as year, month, day, such as 2026-11-25.';
    }
    const rows: readonly RowRead[] = [...this.kept, ...this.added].map((row) => row.read());
    for (const row of rows) if (row.kind === 'refused') Object.assign(refusals, row.refusals);
    this.refusals = refusals;
    if (Object.keys(refusals).length > 0) return null;
    const text = (key: 'separation' | 'varnish' | 'curedOn' | 'note') => {
      const said = this[key].trim();
      return said === '' ? {} : { [key]: said };
    };
    return {
      fields: {
        title: this.title.trim(),
        joint: this.joint,
        shunts: this.shunts,
        ...text('separation'),
        ...text('varnish'),
        ...text('curedOn'),
        ...text('note'),
        ...(this.by === null ? {} : { planRevisionId: this.by.version.revisionId }),
      },
      windings: rows.flatMap((row) => (row.kind === 'winding' ? [row.fields] : [])),
    };
  }

  /** Puts a refusal of the program at its field. False when it belongs to none here. */
  refuse({ path, message }: Failure): boolean {
    const key = path?.replace(/^fields\./, '') ?? '';
    if (!['title', 'separation', 'varnish', 'curedOn', 'note'].includes(key)) return false;
    this.refusals = { ...this.refusals, [key]: message };
    return true;
  }
}
