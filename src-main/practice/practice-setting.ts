import * as v from 'valibot';
import { controlsAtFirst, type Hiding, type PracticeControls } from '../../src-shared/practice/controls.ts';
import { drawSizes, hideableFaults, usualSizes, type LyingFault } from '../../src-shared/practice/fault.ts';
import {
  faultSize,
  faultTold,
  practiceTruth,
  PracticeLeft,
  type HiddenFault,
} from '../../src-shared/practice/truth.ts';
import type { Generator } from '../../src-shared/quantity/generator.ts';
import { eventKind } from '../../src-shared/record/run.ts';

interface Parts {
  readonly nowMs: () => number;
  /** For what is drawn by lot. */
  readonly lot: () => Generator;
  /** Number of the open practice run; null while none is. */
  readonly openRun: () => number | null;
  /** Writes an event of a run; null: of none. */
  readonly record: (runId: number | null, kind: string, body: unknown) => void;
  /** Body of the last event that says how the bench was left; undefined before there is one. */
  readonly left: () => unknown;
}

/**
 * How the practice bench is set and which fault lies in it, hidden or chosen; written down in every run that it is in, and
 * by itself, so that the next start of the program finds it as it was left.
 */
export class PracticeSetting {
  readonly #parts: Parts;
  #controls: PracticeControls = controlsAtFirst;
  /** With the runs that it lay in, so that telling it tells it of them all. */
  #hidden: HiddenFault | null = null;
  #since: number;
  #pressedAtMs: number;

  constructor(parts: Parts) {
    this.#parts = parts;
    this.#since = parts.nowMs();
    this.#pressedAtMs = this.#since;
    const left = v.safeParse(PracticeLeft, parts.left());
    if (left.success) ({ controls: this.#controls, hidden: this.#hidden } = left.output);
  }

  /** As the person set them. */
  get controls(): PracticeControls {
    return this.#controls;
  }

  /** What truly lies in the bench. */
  get lying(): LyingFault {
    return this.#hidden?.lying ?? { fault: this.#controls.fault, sizes: usualSizes };
  }

  get hiding(): Hiding {
    if (this.#hidden === null) return { kind: 'nothing' };
    const { lying, isTold } = this.#hidden;
    return isTold ? { kind: 'told', fault: lying.fault, size: faultSize(lying) } : { kind: 'hidden' };
  }

  /** Simulated minutes since the fault was put there, at a time. */
  minutesSince(atMs: number): number {
    return ((atMs - this.#since) / 60_000) * this.#controls.timeFactor;
  }

  /** Sets the bench. A fault that is chosen takes the place of a hidden one; all else leaves it where it is. */
  set(controls: PracticeControls): void {
    const before = this.#controls;
    this.#controls = controls;
    if (controls.fault !== before.fault) this.#lay(null);
    if (controls.autoOff !== before.autoOff) this.press();
    const isOnlyTheKnob =
      JSON.stringify({ ...before, supplyPercent: 0 }) === JSON.stringify({ ...controls, supplyPercent: 0 });
    if (isOnlyTheKnob) return;
    this.#write();
    this.#leave();
  }

  /** Hides a fault, drawn by lot; turns can only oppose where some were added. */
  hide(): void {
    const generator = this.#parts.lot();
    const pool = hideableFaults.filter((fault) => fault !== 'opposed-turns' || this.#controls.addedTurns > 0);
    const fault = pool[Math.floor(generator.uniform() * pool.length)] ?? 'shorted-turn';
    this.#controls = { ...this.#controls, fault: 'none' };
    this.#lay({ lying: { fault, sizes: drawSizes(generator) }, isTold: false, runIds: [] });
    this.#write();
    this.#leave();
  }

  /** Tells what is hidden: on the page, and in every run in which it lay. */
  tell(): void {
    if (this.#hidden === null || this.#hidden.isTold) return;
    this.#hidden = { ...this.#hidden, isTold: true };
    const text = `What was hidden: ${faultTold(this.#hidden.lying)}.`;
    for (const runId of this.#hidden.runIds) this.#parts.record(runId, eventKind.practiceTold, { text });
    this.#leave();
  }

  /** Takes the hidden fault out. */
  mend(): void {
    if (this.#hidden === null) return;
    this.#lay(null);
    this.#write();
    this.#leave();
  }

  /** A run began: how the bench is goes into its record. */
  runBegan(): void {
    this.#write();
  }

  /** Somebody pressed a key of the meters. */
  press(): void {
    this.#pressedAtMs = this.#parts.nowMs();
  }

  /** The meters have switched themselves off. */
  isQuiet(atMs: number): boolean {
    const { autoOff } = this.#controls;
    return autoOff !== null && atMs - this.#pressedAtMs > autoOff * 60_000;
  }

  #lay(hidden: HiddenFault | null): void {
    this.#hidden = hidden;
    this.#since = this.#parts.nowMs();
  }

  #leave(): void {
    const left: PracticeLeft = { controls: this.#controls, hidden: this.#hidden };
    this.#parts.record(null, eventKind.practiceLeft, left);
  }

  #write(): void {
    const runId = this.#parts.openRun();
    if (runId === null) return;
    const hidden = this.#hidden;
    const isHidden = hidden !== null && !hidden.isTold;
    if (isHidden && !hidden.runIds.includes(runId)) {
      this.#hidden = { ...hidden, runIds: [...hidden.runIds, runId] };
      this.#leave();
    }
    this.#parts.record(runId, eventKind.practiceBench, practiceTruth(this.#controls, this.lying, isHidden));
  }
}
