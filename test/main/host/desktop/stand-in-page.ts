import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { compileFunction } from 'node:vm';
import type { ShellBridge } from '../../../../src-shared/contract/shell-channels.ts';

/** The built preload script, as it is shipped. */
export const builtPreload = resolve(import.meta.dirname, '../../../../out/preload/preload.cjs');

/** The main process as a page's messages reach it. */
export interface ToMain {
  send(channel: string, message: unknown): void;
  invoke(channel: string, message: unknown): Promise<unknown>;
}

type Hear = (event: object, message: unknown) => void;

/** What crosses to the page's world: plain values as copies, functions as functions that copy in their turn. */
function bridged(value: unknown): unknown {
  if (typeof value === 'function') {
    const act = value as (...given: unknown[]) => unknown;
    return (...given: unknown[]) => {
      const returned = act(...given.map(bridged));
      return returned instanceof Promise ? returned.then(bridged) : bridged(returned);
    };
  }
  return structuredClone(value);
}

/** Runs a preload script as a sandboxed one is run: `require` knows `electron` and throws for everything else. */
export function runPreload(file: string, electron: object): string[] {
  const required: string[] = [];
  const code = readFileSync(file, 'utf8');
  const script = compileFunction(code, ['require', 'module', 'exports']) as (
    require: (name: string) => object,
    module: object,
    exports: object,
  ) => void;
  const exports = {};
  script(
    (name) => {
      required.push(name);
      if (name !== 'electron') throw new Error(`module not found: ${name}`);
      return electron;
    },
    { exports },
    exports,
  );
  return required;
}

/**
 * One document with its preload script in a world of its own. Messages are copied by structured clone on each way and
 * arrive later, in order; while paused, those to the page wait.
 */
export class StandInPage {
  readonly world = new Map<string, unknown>();
  readonly #hearers = new Map<string, Hear>();
  readonly #waiting: (() => void)[] = [];
  #isPaused = false;
  #isGone = false;

  constructor(preload: string, main: ToMain) {
    runPreload(preload, {
      contextBridge: {
        exposeInMainWorld: (name: string, api: Record<string, unknown>) => {
          const entries = Object.entries(api).map(([key, value]): [string, unknown] => [key, bridged(value)]);
          this.world.set(name, Object.freeze(Object.fromEntries(entries)));
        },
      },
      ipcRenderer: {
        on: (channel: string, hear: Hear) => this.#hearers.set(channel, hear),
        send: (channel: string, message: unknown) => {
          if (!this.#isGone) main.send(channel, message);
        },
        invoke: (channel: string, message: unknown) => main.invoke(channel, message),
      },
    });
  }

  get bridge(): ShellBridge {
    return this.world.get('turnwright') as ShellBridge;
  }

  /** A message from the main process. */
  take(channel: string, message: unknown): void {
    const copy = structuredClone(message);
    this.#waiting.push(() => this.#hearers.get(channel)?.({}, copy));
    setImmediate(() => {
      this.#deliver();
    });
  }

  pause(): void {
    this.#isPaused = true;
  }

  resume(): void {
    this.#isPaused = false;
    this.#deliver();
  }

  /** The document is replaced or its process ended: nothing is heard or said any more. */
  leave(): void {
    this.#isGone = true;
    this.#waiting.length = 0;
  }

  #deliver(): void {
    while (!this.#isPaused && !this.#isGone) {
      const next = this.#waiting.shift();
      if (next === undefined) return;
      next();
    }
  }
}
