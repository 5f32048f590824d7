import { linkReasons, type LinkReason } from '../../src-shared/meter/link-status.ts';
import { hearingInWords, isBetter, isHopeless, judgeBytes, type Hearing } from '../../src-shared/meter/port-judge.ts';
import { usualPortSettings, type PortSettings } from '../../src-shared/meter/port-settings.ts';
import type { Clock } from '../bench/clock.ts';
import type { MeterPort } from './meter-port.ts';
import { systemPort } from './system-port.ts';
import { permissionAdvice } from './port-advice.ts';
import { openFailure } from './open-failure.ts';

export interface ListenOptions {
  readonly path: string;
  readonly clock: Pick<Clock, 'monoMs' | 'after'>;
  /** Which setting is being tried, what was heard so far, and how far it is if nothing makes it sure. */
  readonly onTrying?: (settings: PortSettings, sentence: string, step: number, steps: number) => void;
  readonly newPort?: (settings: PortSettings) => MeterPort | Promise<MeterPort>;
}

export type Listened =
  | { readonly kind: 'heard'; readonly settings: PortSettings; readonly hearing: Hearing; readonly sentence: string }
  | { readonly kind: 'nothing'; readonly sentence: string }
  | { readonly kind: 'failed'; readonly why: LinkReason; readonly sentence: string }
  | { readonly kind: 'stopped' };

export interface Listening {
  readonly result: Promise<Listened>;
  /** Ends it; the result is `stopped` once the port is free. */
  stop(): void;
}

/** The usual rates, commonest first. Common practice. */
const rates = [9600, 2400, 19200, 115200, 4800, 1200, 38400, 57600, 600, 300, 230400, 460800, 921600] as const;
/** Levels of the handshake lines: isolated adapters are powered by them, some by one high and the other low. */
const lines = [
  { dtr: true, rts: true },
  { dtr: true, rts: false },
  { dtr: false, rts: true },
] as const;
/** A slow meter can be nothing but broken bytes to a fast port, and those are not passed on: one of each is tried. */
const firstRates = [9600, 1200] as const;
/** Three lines of a meter that sends once a second. */
const dwellMs = 3500;
const lookEveryMs = 100;
const mostBytes = 4096;

interface Heard {
  readonly settings: PortSettings;
  readonly hearing: Hearing;
}

/** One setting, listened to until it is sure, hopeless or its time is over. */
async function listenOnce(
  settings: PortSettings,
  { clock, newPort = systemPort }: ListenOptions,
  isStopped: () => boolean,
): Promise<Heard> {
  const port = await newPort(settings);
  const pieces: Uint8Array[] = [];
  let gathered = 0;
  port.onData((bytes) => {
    if (gathered < mostBytes) pieces.push(Uint8Array.from(bytes));
    gathered += bytes.length;
  });
  await port.open();
  try {
    await port.setLines(settings).catch(() => undefined);
    const endMs = clock.monoMs() + dwellMs;
    for (;;) {
      await new Promise<void>((resolve) => {
        clock.after(lookEveryMs, resolve);
      });
      const hearing = judgeBytes(Buffer.concat(pieces));
      const isEnough = hearing.sureness === 'sure' || isHopeless(hearing) || gathered >= mostBytes;
      if (isEnough || isStopped() || clock.monoMs() >= endMs) {
        return { settings: { ...settings, ...hearing.framing }, hearing };
      }
    }
  } finally {
    await port.close();
  }
}

/** Tries the handshake levels until something arrives, then the other rates with those, until it is sure. */
async function search(options: ListenOptions, isStopped: () => boolean): Promise<Heard | null> {
  const at = (more: Partial<PortSettings>): PortSettings => ({ path: options.path, ...usualPortSettings, ...more });
  let best: Heard | null = null;
  let [step, steps] = [0, lines.length * firstRates.length + rates.length - 1];
  const hear = async (settings: PortSettings): Promise<Heard> => {
    const said = best === null ? '' : hearingInWords(best.hearing, best.settings.baudRate);
    step += 1;
    options.onTrying?.(settings, said, step, steps);
    const heard = await listenOnce(settings, options, isStopped);
    if (best === null || isBetter(heard.hearing, best.hearing)) best = heard;
    return heard;
  };
  const powered = await findPower(hear, at, isStopped);
  if (powered === null) return best;
  steps = step + rates.length - 1;
  for (const baudRate of rates.filter((rate) => rate !== powered.triedRate)) {
    if (isStopped() || isSure(best)) return best;
    await hear(at({ baudRate, ...powered.level }));
  }
  return best;
}

const isSure = (heard: Heard | null): boolean => heard?.hearing.sureness === 'sure';

/** The handshake levels at which anything arrives, and the rate at which it did; null when nothing does. */
async function findPower(
  hear: (settings: PortSettings) => Promise<Heard>,
  at: (more: Partial<PortSettings>) => PortSettings,
  isStopped: () => boolean,
): Promise<{ readonly level: (typeof lines)[number]; readonly triedRate: number } | null> {
  for (const level of lines) {
    for (const baudRate of firstRates) {
      if (isStopped()) return null;
      const { hearing } = await hear(at({ baudRate, ...level }));
      if (hearing.bytes > 0) return { level, triedRate: baudRate };
    }
  }
  return null;
}

/**
 * Listens to a port at the usual rates and says how it should be set, and how sure that is. Sends nothing. Each setting
 * has a port of its own; the port is free again when the result is there.
 */
export function listenToPort(options: ListenOptions): Listening {
  let isStopped = false;
  const run = async (): Promise<Listened> => {
    try {
      const best = await search(options, () => isStopped);
      if (isStopped) return { kind: 'stopped' };
      if (best === null || best.hearing.sureness === 'nothing') {
        return { kind: 'nothing', sentence: best === null ? '' : hearingInWords(best.hearing, best.settings.baudRate) };
      }
      return { kind: 'heard', ...best, sentence: hearingInWords(best.hearing, best.settings.baudRate) };
    } catch (thrown) {
      const error = thrown instanceof Error ? thrown : new Error(String(thrown));
      const why = await openFailure(options.path, error, process.platform);
      const advice = why === 'permission' ? ` ${await permissionAdvice(options.path, process.platform)}` : '';
      return { kind: 'failed', why, sentence: `${linkReasons[why]}${advice}` };
    }
  };
  return {
    result: run(),
    stop() {
      isStopped = true;
    },
  };
}
