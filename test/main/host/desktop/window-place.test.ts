import fc from 'fast-check';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { keepPlace, readPlace } from '../../../../src-main/host/desktop/kept-place.ts';
import { placeFor } from '../../../../src-main/host/desktop/window-place.ts';

const main = { x: 0, y: 0, width: 1920, height: 1040 };
const left = { x: -2560, y: -200, width: 2560, height: 1400 };
const small = { x: 0, y: 24, width: 1280, height: 700 };

describe('the place of the window', () => {
  it.each([
    ['the middle, at first', null, [main], { x: 320, y: 120, width: 1280, height: 800 }],
    ['no larger than a small screen', null, [small], { x: 0, y: 24, width: 1280, height: 700 }],
    ['where it was', { x: 50, y: 60, width: 1100, height: 750 }, [main], { x: 50, y: 60, width: 1100, height: 750 }],
    [
      'on the second screen',
      { x: -2000, y: 0, width: 1100, height: 750 },
      [main, left],
      { x: -2000, y: 0, width: 1100, height: 750 },
    ],
    [
      'the middle, when that screen is gone',
      { x: -2000, y: 0, width: 1100, height: 750 },
      [main],
      { x: 410, y: 145, width: 1100, height: 750 },
    ],
    [
      'moved in, when it stood half outside',
      { x: 1500, y: 900, width: 1100, height: 750 },
      [main],
      { x: 820, y: 290, width: 1100, height: 750 },
    ],
    [
      'below the bar at the top',
      { x: 0, y: 0, width: 1100, height: 700 },
      [small],
      { x: 0, y: 24, width: 1100, height: 700 },
    ],
    [
      'not smaller than the pages are drawn for',
      { x: 0, y: 0, width: 200, height: 150 },
      [main],
      { x: 0, y: 0, width: 1024, height: 700 },
    ],
    ['shrunk to the screen', { x: 0, y: 0, width: 5000, height: 4000 }, [main], main],
  ] as const)('is %s', (_what, kept, [first, ...more], place) => {
    expect(placeFor(kept, [first, ...more])).toEqual(place);
  });

  it('lies wholly on one screen that is there, whatever was kept', () => {
    const pixel = fc.integer({ min: -10_000, max: 10_000 });
    const length = fc.integer({ min: 1, max: 100_000 });
    const rectangle = fc.record({ x: pixel, y: pixel, width: length, height: length });
    const screen = fc.record({
      x: pixel,
      y: pixel,
      width: fc.integer({ min: 640, max: 8000 }),
      height: fc.integer({ min: 480, max: 5000 }),
    });
    fc.assert(
      fc.property(fc.option(rectangle), screen, fc.array(screen, { maxLength: 3 }), (kept, first, more) => {
        const place = placeFor(kept, [first, ...more]);
        const holds = [first, ...more].some(
          (area) =>
            place.x >= area.x &&
            place.y >= area.y &&
            place.x + place.width <= area.x + area.width &&
            place.y + place.height <= area.y + area.height,
        );
        expect(holds).toBe(true);
      }),
    );
  });
});

describe('the kept place', () => {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-place-'));
  const file = join(folder, 'window.json');

  afterAll(() => {
    rmSync(folder, { recursive: true });
  });

  it('is read back as it was kept, and leaves nothing beside it', () => {
    const place = { x: -5, y: 7, width: 1100, height: 750, maximised: true };
    keepPlace(file, place, (line) => expect.fail(line));
    expect(readPlace(file)).toEqual(place);
    expect(readdirSync(folder)).toEqual(['window.json']);
  });

  it.each([
    '',
    '{}',
    'tea',
    '{"x":0,"y":0,"width":1e9,"height":700,"maximised":false}',
    '{"x":0.5,"y":0,"width":9,"height":9,"maximised":false}',
  ])('counts as none when it cannot be read: %s', (text) => {
    writeFileSync(file, text);
    expect(readPlace(file)).toBeNull();
  });

  it('is no reason to stop when the disk refuses it', () => {
    const said: string[] = [];
    keepPlace(join(folder, 'not-there', 'window.json'), { ...main, maximised: false }, (line) => said.push(line));
    expect(said).toHaveLength(1);
    expect(readPlace(join(folder, 'not-there', 'window.json'))).toBeNull();
  });
});
