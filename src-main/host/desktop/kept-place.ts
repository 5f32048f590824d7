import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import * as v from 'valibot';

const pixels = v.pipe(v.number(), v.safeInteger());
const length = v.pipe(pixels, v.minValue(1), v.maxValue(100_000));

const KeptPlace = v.strictObject({ x: pixels, y: pixels, width: length, height: length, maximised: v.boolean() });

/** Where the window was, and whether it filled its screen. */
export type KeptPlace = v.InferOutput<typeof KeptPlace>;

/** Reads the place that was kept; null when there is none, or none that can be read. */
export function readPlace(file: string): KeptPlace | null {
  try {
    const read = v.safeParse(KeptPlace, JSON.parse(readFileSync(file, 'utf8')));
    return read.success ? read.output : null;
  } catch {
    return null;
  }
}

/** Keeps a place: a reader finds the old one or the new one, whole. A disk that refuses is no reason to stop. */
export function keepPlace(file: string, place: KeptPlace, log: (line: string) => void): void {
  try {
    writeFileSync(`${file}.new`, JSON.stringify(place));
    renameSync(`${file}.new`, file);
  } catch (error) {
    log(`The place of the window could not be kept: ${String(error)}`);
  }
}
