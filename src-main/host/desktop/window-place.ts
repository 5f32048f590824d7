import type { Rectangle } from 'electron';

const usual = { width: 1280, height: 800 };
const smallest = { width: 1024, height: 700 };

/** How much of a window must lie on a screen, in each direction, for it to count as lying there. */
const seenAtLeast = 100;

const overlap = (from: number, length: number, otherFrom: number, otherLength: number) =>
  Math.min(from + length, otherFrom + otherLength) - Math.max(from, otherFrom);

const within = (value: number, lowest: number, highest: number) => Math.max(lowest, Math.min(value, highest));

const middleOf = (area: Rectangle, { width, height }: { width: number; height: number }): Rectangle => ({
  x: Math.round(area.x + (area.width - width) / 2),
  y: Math.round(area.y + (area.height - height) / 2),
  width,
  height,
});

/**
 * Where a window is put: where it was, moved and shrunk until it lies wholly in the working area of the screen that it
 * was on most; in the middle of the first screen when that screen is gone or nothing was kept. In screen pixels.
 * @param areas - the working areas of the screens that are there now, the main one first
 */
export function placeFor(kept: Rectangle | null, areas: readonly [Rectangle, ...Rectangle[]]): Rectangle {
  const [main] = areas;
  const sized = (wanted: { width: number; height: number }, area: Rectangle) => ({
    width: Math.min(Math.max(wanted.width, smallest.width), area.width),
    height: Math.min(Math.max(wanted.height, smallest.height), area.height),
  });
  if (kept === null) return middleOf(main, sized(usual, main));
  const shares = areas.map((area) => ({
    area,
    wide: overlap(kept.x, kept.width, area.x, area.width),
    high: overlap(kept.y, kept.height, area.y, area.height),
  }));
  const seen = shares.filter(({ wide, high }) => wide >= seenAtLeast && high >= seenAtLeast);
  const [most] = seen.sort((one, other) => other.wide * other.high - one.wide * one.high);
  if (most === undefined) return middleOf(main, sized(kept, main));
  const { area } = most;
  const { width, height } = sized(kept, area);
  return {
    x: within(kept.x, area.x, area.x + area.width - width),
    y: within(kept.y, area.y, area.y + area.height - height),
    width,
    height,
  };
}
