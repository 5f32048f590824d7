import type { LastReading } from '../../../src-shared/contract/meter-view.ts';
import type { Thresholds } from '../../../src-shared/interlock/bounds.ts';
import type { ProofInProgress } from '../../../src-shared/interlock/proof.ts';
import { isCircuit } from '../../../src-shared/interlock/proof-steps.ts';
import { watchStep, type Watched, type WatchedReading } from '../../../src-shared/procedure/hands-free.ts';

const mostKept = 200;

/** Watches the meter of a proof, so that each step is taken without a hand on the keyboard. */
export class HandsFree {
  isOn = $state(false);
  placeSeconds = $state(4);
  /** What is waited for at the step in hand; null while nothing is. */
  watched = $state.raw<Watched | null>(null);
  #step = -1;
  #announcedAtMs = 0;
  #readings: WatchedReading[] = [];

  /** Begins afresh: what was heard before it was on counts for nothing. */
  toggle(): void {
    this.isOn = !this.isOn;
    this.#step = -1;
    this.#readings = [];
    this.watched = null;
  }

  /** Another step is in hand: its readings and its time begin now. */
  #announce(proof: ProofInProgress, nowMs: number): void {
    if (this.#step === proof.readings.length) return;
    this.#step = proof.readings.length;
    this.#announcedAtMs = nowMs;
    this.#readings = [];
    this.watched = null;
  }

  /** One reading of the meter. Gives the reading to take, once the step can be taken; else null. */
  hear(proof: ProofInProgress, last: LastReading, thresholds: Thresholds): LastReading | null {
    const { instrument, readings } = proof;
    const planned = proof.steps[readings.length];
    if (!this.isOn || instrument.kind !== 'meter' || planned === undefined || planned.coupling === 'both') return null;
    this.#announce(proof, last.atMs);
    if (this.#readings.at(-1)?.atMs === last.atMs || last.kind === 'unreadable') return null;
    const volts = last.kind === 'number' && last.unit === 'V' ? last.value : null;
    this.#readings = [...this.#readings, { atMs: last.atMs, volts, coupling: last.coupling }].slice(-mostKept);
    const before = proof.steps[readings.length - 1];
    this.watched = watchStep(
      {
        isKnown: !isCircuit(planned),
        coupling: planned.coupling,
        knownVolts: planned.coupling === 'ac' ? instrument.knownAcVolts : instrument.knownDcVolts,
        thresholdVolts: planned.coupling === 'ac' ? thresholds.deadAcVolts : thresholds.deadDcVolts,
        comesFromKnown: before !== undefined && !isCircuit(before),
        announcedAtMs: this.#announcedAtMs,
        placeMs: this.placeSeconds * 1000,
      },
      this.#readings,
      last.atMs,
    );
    return this.watched.kind === 'take' ? last : null;
  }
}

/** What the person does now, in words. */
export function watchedWords(watched: Watched | null, where: string, coupling: string): string {
  if (watched === null || watched.kind === 'take') return `Probes to: ${where}.`;
  switch (watched.why) {
    case 'other-kind':
      return `Turn the knob to ${coupling === 'dc' ? 'd.c.' : 'a.c.'}.`;
    case 'leave-known':
      return `Leave the known source. Next: ${where}.`;
    case 'not-there':
      return `Probes to: ${where}.`;
    case 'placing':
      return `Probes to: ${where}. Read in ${Math.ceil(watched.leftMs / 1000)} s.`;
    case 'unsteady':
      return `Keep them there: ${where}.`;
  }
}
