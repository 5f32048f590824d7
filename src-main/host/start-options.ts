import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import { nearestName } from '../../src-shared/calculation/nearest-name.ts';

/** How the person wants the program started. */
export interface StartOptions {
  /** Show the page in the browser that the system opens addresses with. */
  readonly opensBrowser: boolean;
  /** 0 takes any free port; null the usual one of the folder, where that is free. */
  readonly port: number | null;
  /** The folder of the record; null is the system's usual place. */
  readonly folder: string | null;
  /** The local host is asked for: by its name, or by an option that only it has. */
  readonly isLocal: boolean;
}

/** Every option, with what follows it. `--local` asks for the local host where a desktop window could be had. */
const known = { '--no-open': null, '--port': 'N', '--data': 'FOLDER', '--local': null } as const;
type Option = keyof typeof known;

const isKnown = (name: string): name is Option => Object.hasOwn(known, name);
const refuse = (sentence: string) => failed('bad-input', sentence);

/** The options of a command line, or `bad-input` with a sentence that says what is known. */
export function readStartOptions(args: readonly string[]): Outcome<StartOptions> {
  let options: StartOptions = { opensBrowser: true, port: null, folder: null, isLocal: false };
  const rest = [...args];
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    const [name = '', ...joined] = word.split('=');
    if (!isKnown(name)) {
      const names = Object.entries(known).map(([each, value]) => (value === null ? each : `${each} ${value}`));
      return refuse(
        `There is no option ${name}; nearest is ${nearestName(name, Object.keys(known))}. Known: ${names.join(', ')}.`,
      );
    }
    if (known[name] === null) {
      if (joined.length > 0) return refuse(`${name} takes no value.`);
      options = { ...options, isLocal: true, opensBrowser: options.opensBrowser && name !== '--no-open' };
      continue;
    }
    const value = joined.length > 0 ? joined.join('=') : rest.shift();
    if (value === undefined || value === '' || value.startsWith('--')) {
      return refuse(`${name} needs a value: ${name} ${known[name]}.`);
    }
    if (name === '--data') {
      options = { ...options, folder: value };
    } else {
      const port = /^\d{1,5}$/.test(value) ? Number(value) : Number.NaN;
      if (!(port <= 65_535)) return refuse(`--port must be a whole number from 0 to 65535; ${value} is not.`);
      options = { ...options, port, isLocal: true };
    }
  }
  return done(options);
}
