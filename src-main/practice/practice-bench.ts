import type { ProofInProgress } from '../../src-shared/interlock/proof.ts';
import { isPowered, type GuardState } from '../../src-shared/interlock/state.ts';
import type { PracticeMeter } from '../../src-shared/meter/description.ts';
import { valueAt } from '../../src-shared/practice/clipped.ts';
import type { PracticeNow } from '../../src-shared/practice/controls.ts';
import { demonstrationTruth } from '../../src-shared/practice/demonstration.ts';
import { driftAfter } from '../../src-shared/practice/fault-effect.ts';
import type { Temperatures } from '../../src-shared/practice/heating.ts';
import { hurtsAt, type Hurt } from '../../src-shared/practice/hurts.ts';
import { after, observe, type Observed, type PracticeBench as Bench } from '../../src-shared/practice/observed.ts';
import { lineAt } from '../../src-shared/practice/practice-supply.ts';
import { practiceBenchOf, roomCelsius, turnsAddedIn, type Scene } from '../../src-shared/practice/scene.ts';
import type { ProcedureChannel } from '../../src-shared/procedure/procedure.ts';
import { assertNever } from '../../src-shared/quantity/assert-never.ts';
import type { Filled, SetUpNow } from '../bench/choose.ts';
import type { PracticeSource } from '../meter/practice-port.ts';
import type { Store } from '../store/store.ts';
import type { PracticeSetting } from './practice-setting.ts';

interface Parts {
  readonly store: Pick<Store, 'sessions' | 'builds' | 'cores'>;
  readonly guardState: () => GuardState;
  readonly nowMs: () => number;
  /** Tells the person what would have hurt, once each time that it begins. */
  readonly tell: (hurt: Hurt) => void;
  readonly setting: PracticeSetting;
  readonly bench: { readonly setUp: SetUpNow | null; filledBy(meterId: number): Filled | null };
}

/** The line's volts are taken in steps of this share, and temperatures in steps of this many kelvin, so that little is solved twice. */
const lineStep = 5e-4;
const kelvinStep = 1;
const mostSolved = 200;
/** How long it takes to carry two probes to the next point. */
const probesOnTheWayMs = 1500;
/** What a meter shows of a circuit that is dead. */
export const deadResidueVolts = 0.003;

const inSteps = (value: number, step: number): number => Math.round(value / step) * step;

/**
 * What the practice meters are joined to: the invented core of the open session, fed while power is declared on, as the
 * person has set the practice bench. While a proof is made with one of them, its probes go from point to point by themselves.
 */
export class PracticeBench {
  readonly #parts: Parts;
  readonly #solved = new Map<string, Observed>();
  #isExchanged = false;
  #temperatures: Temperatures = { winding: roomCelsius, core: roomCelsius };
  #heatedUpToMs: number | null = null;
  /** Power was declared on when it was heated last. */
  #wasOn = false;
  #sessionId: number | null = null;
  #hurting: readonly Hurt['code'][] = [];

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** How it is set, and what goes on there by its truth. */
  now(): PracticeNow {
    const { setting, nowMs } = this.#parts;
    const atMs = nowMs();
    const { controls, hiding } = setting;
    const set = { controls, hiding, isQuiet: setting.isQuiet(atMs) };
    const bench = this.#at(atMs);
    if (bench === null) return { ...set, now: null };
    const { lineAmps, watts } = this.#observe(bench);
    const { winding, core } = bench.temperatures;
    return {
      ...set,
      now: {
        isOn: bench.isOn,
        lineAmps: lineAmps.rms,
        watts,
        windingCelsius: winding,
        coreCelsius: core,
        hurts: hurtsAt(bench, this.#observe(bench)).map(({ sentence }) => sentence),
      },
    };
  }

  /** What it did until now it did as it was before: to be called before it is set otherwise, and when power went on or off. */
  catchUp(): void {
    this.#at(this.#parts.nowMs());
  }

  /** The two practice meters were exchanged at the clips: each reads what the other read. */
  exchange(isExchanged: boolean): void {
    this.#isExchanged = isExchanged;
  }

  /** What one practice meter is joined to. */
  source(meterId: number, { responding, crestFactor }: PracticeMeter): PracticeSource {
    return {
      trueValue: (atMs) => {
        const proof = this.#proofWith(meterId);
        if (proof !== null) return provedVolts(proof, atMs);
        const channel = this.#channelOf(meterId);
        const bench = this.#at(atMs);
        if (channel === null || bench === null) return 0;
        const observed = this.#observe(bench);
        this.#sayWhatHurts(bench, observed);
        return this.#driftOf(meterId, atMs) * valueAt(bench, observed, { channel, responding, crestFactor });
      },
      isQuiet: (atMs) => this.#parts.setting.isQuiet(atMs),
      lockedRange: () => {
        const proof = this.#proofWith(meterId);
        if (proof !== null) return proof.coupling === 'dc' ? proof.instrument.dcRange : proof.instrument.acRange;
        return this.#parts.bench.filledBy(meterId)?.lockedRange ?? null;
      },
      turnedTo: () => this.#proofWith(meterId)?.coupling ?? null,
    };
  }

  #sayWhatHurts(bench: Bench, observed: Observed): void {
    const hurts = hurtsAt(bench, observed);
    for (const hurt of hurts) if (!this.#hurting.includes(hurt.code)) this.#parts.tell(hurt);
    this.#hurting = hurts.map(({ code }) => code);
  }

  #proofWith(meterId: number) {
    const { proofInProgress: proof } = this.#parts.guardState();
    if (proof?.instrument.kind !== 'meter' || proof.instrument.meterId !== meterId) return null;
    const coupling = proof.steps[proof.readings.length]?.coupling === 'dc' ? ('dc' as const) : ('ac' as const);
    return { proof, instrument: proof.instrument, coupling };
  }

  /** What a meter shows of the truth: the first of the volts meters may be the one that drifts, wherever it is clipped. */
  #driftOf(meterId: number, atMs: number): number {
    const { setting, bench } = this.#parts;
    const volts = (bench.setUp?.filled ?? []).filter(({ channel }) => channel.unit === 'V').map((one) => one.meterId);
    return meterId === Math.min(...volts) ? driftAfter(setting.lying, setting.minutesSince(atMs)) : 1;
  }

  /** The channel whose quantity is at the meter's clips. */
  #channelOf(meterId: number): ProcedureChannel | null {
    const filled = this.#parts.bench.filledBy(meterId);
    if (filled === null || !this.#isExchanged) return filled?.channel ?? null;
    const others = (this.#parts.bench.setUp?.filled ?? []).filter(
      (one) => one.meterId !== meterId && one.channel.kind === filled.channel.kind,
    );
    return others.length === 1 ? (others[0]?.channel ?? null) : filled.channel;
  }

  /** The bench as it is now, warm or cold; null while no practice session is open or nobody said what is fed. */
  #at(atMs: number): Bench | null {
    const scene = this.#scene(atMs);
    const bench = scene === null ? null : practiceBenchOf(scene);
    if (bench === null) return null;
    const passedMs = this.#heatedUpToMs === null ? 0 : Math.max(0, atMs - this.#heatedUpToMs);
    const seconds = (passedMs / 1000) * this.#parts.setting.controls.timeFactor;
    this.#heatedUpToMs = atMs;
    if (seconds > 0) {
      const before = { ...bench, isOn: this.#wasOn };
      this.#temperatures = after(before, this.#observe(before), seconds).temperatures;
    }
    this.#wasOn = bench.isOn;
    return { ...bench, temperatures: this.#temperatures };
  }

  #scene(atMs: number): Scene | null {
    const { store, guardState, setting } = this.#parts;
    const session = store.sessions.current();
    if (session?.practice !== true) return null;
    if (session.sessionId !== this.#sessionId) {
      // A core is cold when a sitting begins.
      this.#sessionId = session.sessionId;
      this.#temperatures = { winding: roomCelsius, core: roomCelsius };
      this.#heatedUpToMs = null;
    }
    const build = store.builds.get(session.fields.buildId);
    const core = build === null ? null : store.cores.get(build.coreId);
    if (build === null || core?.fields.demonstration === undefined) return null;
    const earlier = store.builds.listOf(build.coreId).filter(({ number }) => number <= build.number);
    return {
      truth: demonstrationTruth(core.fields.demonstration),
      windings: build.windings,
      turnsAdded: turnsAddedIn(earlier.flatMap(({ windings }) => windings)),
      supply: session.fields.supply,
      line: inSteps(lineAt(setting.controls.line, atMs), lineStep),
      fedWindingId: session.fields.fedWindingId,
      controls: setting.controls,
      lying: setting.lying,
      temperatures: this.#temperatures,
      isOn: isPowered(guardState()),
    };
  }

  /** What goes on at a bench; solved anew only where it is another one than before. */
  #observe(bench: Bench): Observed {
    const { winding, core } = bench.temperatures;
    const even = { winding: inSteps(winding, kelvinStep), core: inSteps(core, kelvinStep) };
    const key = JSON.stringify({ ...bench, temperatures: even });
    const known = this.#solved.get(key);
    if (known !== undefined) return known;
    const observed = observe({ ...bench, temperatures: even });
    if (observed === null) throw new Error('A practice bench without the winding that it feeds.');
    if (this.#solved.size >= mostSolved) this.#solved.clear();
    this.#solved.set(key, observed);
    return observed;
  }
}

/** The volts between the probes of a proof: nothing on the way to the point, then what is there. */
function provedVolts({ proof, instrument, coupling }: ProvedWith, atMs: number): number {
  const point = proof.steps[proof.readings.length]?.point;
  if (point === undefined || atMs - proof.lastAtMs < probesOnTheWayMs) return 0;
  switch (point.kind) {
    case 'known1':
    case 'known2':
      return coupling === 'dc' ? instrument.knownDcVolts : instrument.knownAcVolts;
    case 'pair':
    case 'winding':
      return deadResidueVolts;
    default:
      return assertNever(point);
  }
}

interface ProvedWith {
  readonly proof: ProofInProgress;
  readonly instrument: Extract<ProofInProgress['instrument'], { kind: 'meter' }>;
  readonly coupling: 'ac' | 'dc';
}
