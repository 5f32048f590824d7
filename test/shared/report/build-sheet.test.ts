import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { plannedRows } from '../../../src-shared/chart/planned-window.ts';
import { buildSheet } from '../../../src-shared/report/build-sheet/build-sheet.ts';
import { cutWords, layersWords } from '../../../src-shared/report/build-sheet/words.ts';
import { build, core, cutter, sheetParts } from './plan-fixture.ts';

const rowOf = (page: string, what: RegExp): string =>
  (page.match(/<tr>.*?<\/tr>/g) ?? []).find((row) => what.test(row))?.replaceAll(/<[^>]+>/g, ' ') ?? '';
const primary = build.windings[0];
if (primary === undefined) throw new Error('The fixture has a primary.');
const withPrimary = (fields: Partial<typeof primary.fields>) => ({
  ...build,
  windings: [{ ...primary, fields: { ...primary.fields, ...fields } }],
});
const second = {
  ...cutter,
  key: 'b',
  label: 'Fan',
  turns: 12.5,
  taps: [],
  wire: { ...cutter.wire, strands: 1 },
  layers: [{ turns: 12.5, fromMm: 13.2, depthMm: 1.514 }],
  predicted: { ...cutter.predicted, noLoadVolts: { value: 11.5, u: 0.1 } },
};

describe('a build sheet', () => {
  test('says what to wind, cut and do, with the readings that are expected, worked out by hand', () => {
    const page = buildSheet(sheetParts());
    for (const text of ['25 turns', '2 layers: 17 + 8', '2 × 5.90 m', '1.51 mm over the film', 'Core stays closed']) {
      expect(page).toContain(text);
    }
    expect(page).toContain('tap “12 V” out after turn 13; layer 1 full at turn 17');
    // 12 V on 250 turns are 48 mV a turn; 23 V of 230 V is a tenth.
    expect(rowOf(page, />1 Cutter, S1 to E1/)).toMatch(/ 1\.2 .* V /);
    expect(rowOf(page, /tap “12 V”<\/th/)).toMatch(/ 0\.624 /);
    expect(rowOf(page, /start of the primary/)).toMatch(
      / 10\.8 .*13\.2 V: wound the other way round, exchange tags S1 and E1/,
    );
    // 12 V × 250 / 240 aiding, 12 V × 230 / 240 opposing.
    expect(rowOf(page, /old and added turns/)).toMatch(/ 12\.5 .*11\.5 V: the added turns oppose/);
    // 230 V / 250 turns over two strands of 0.1 Ω each.
    expect(rowOf(page, /near ends/)).toMatch(
      / 0 .* mV .*48 mV is one turn out: joined, about 4\.6 A would flow round it/,
    );
    expect(rowOf(page, /strands together/)).toMatch(/ 50 .* mΩ /);
    expect(rowOf(page, /No-load amps/)).toMatch(/0\.410 ± 0\.020 A.*about 0\.92 A: the 10 added turns oppose/);
    // 9.5 A × 0.1; times 1.25 to 2. √2 × 230 V over 2 Ω × 250 / 240.
    expect(page).toMatch(/draw 0\.95 A through the primary.*Fuse to begin with: 1\.2 to 1\.9 A, time-lag/);
    expect(page).toContain('For part of one cycle the current may reach about 160 A.');
    // 0.41 A × 230 V is 94 W.
    expect(page).toContain('less than about 100 W lights although nothing is wrong');
    expect(page).not.toMatch(/<script|javascript:|\son\w+=|<link|<img|url\((?!#under)|https?:/i);
    expect(page).not.toMatch(/\bsafe\b|NaN|undefined|Practice\. |Out of date/i);
  });

  test('of six strands says what the odd one would carry against the five others, and what was not taken off the window', () => {
    const six = { ...cutter, wire: { ...cutter.wire, strands: 6, strandsDeep: 3 } };
    const window = { ...sheetParts().version.fields.window, notTakenOff: ['Old secondary'] };
    const page = buildSheet(sheetParts({}, { outputs: [six], window }));
    // 0.92 V over one strand of 0.3 Ω and five of them side by side, 0.06 Ω.
    expect(rowOf(page, /near ends/)).toMatch(/about 2\.6 A would flow round it/);
    expect(page).toContain('Nothing was taken off the window for “Old secondary”, which stays: measure the room');
    expect(buildSheet(sheetParts())).not.toContain('taken off the window');
    expect(rowOf(page, /as before, or the saw was in it/)).toMatch(/Primary, old turns alone/);
  });

  test('in US units gives feet and inches, never short, and the US ceiling for the fuse', () => {
    const page = buildSheet(sheetParts({ system: 'us' }));
    // 5893 mm are 232.01 inches.
    expect(page).toContain('2 × 19 ft 5 in');
    expect(page).toContain('at rest at 68 °F');
    expect(page).toMatch(/Fuse to begin with: 0\.95 to 2\.9 A.*NEC \(NFPA 70\)/);
    expect(page).not.toMatch(/\d (mm|m|kg|°C)\b(?! bare| round)/);
    expect(cutWords(304.8 * 3, 'us')).toBe('3 ft 0 in');
    expect(cutWords(1000, 'metric')).toBe('1.00 m');
    expect(cutWords(1000.1, 'metric')).toBe('1.01 m');
    expect(layersWords({ layers: [12, 12, 12, 4].map((turns) => ({ turns, fromMm: 0, depthMm: 1 })) })).toBe(
      '3 × 12 + 4',
    );
  });

  test('saws off what the plan says, and leaves what stays', () => {
    const hv = {
      ...primary,
      windingId: 5,
      fields: {
        ...primary.fields,
        label: 'HV',
        role: 'other' as const,
        turns: { kind: 'counted' as const, turns: 500 },
      },
    };
    const both = { ...build, windings: [primary, hv] };
    const asked = (whole: Record<string, string>) => ({ asked: { units: 'us' as const, whole, outputs: [{}] } });
    expect(buildSheet(sheetParts())).toContain('Saw whatever old winding is still on off flush');
    const off = buildSheet(sheetParts({ build: both }, asked({ off: '5', addedWire: '0,04' })));
    expect(off).toContain('Saw “HV” off flush');
    // 0.04 in are 1.016 mm.
    expect(off).toContain('in 1.02 mm wire insulated for the mains');
    const stays = buildSheet(sheetParts({ build: both }, asked({ off: '' })));
    expect(stays).toContain('Also stays: HV.');
    expect(stays).not.toMatch(/Saw |Drift /);
  });

  test('of an opened core says how it goes together again, and what the joint does to the current', () => {
    const page = buildSheet(sheetParts({}, { opening: 'opened', addedTurns: 0 }));
    for (const text of [
      'Scribe a line',
      'on the former',
      'Weld on outer faces only',
      'never butted',
      'is a shorted turn',
    ]) {
      expect(page).toContain(text);
    }
    // B = 230 / (4.4429 × 50 Hz × 240 × 0.95 × 40 mm × 52 mm) = 2.18 T; I = g B / (µ0 N √2).
    expect(page).toContain('every 0.05 mm of gap adds about 0.26 A');
    expect(page).not.toMatch(/Saw the old winding|through the windows|added turns oppose/);
  });

  test('says what it does not know instead of a number', () => {
    const unknown = withPrimary({ turns: { kind: 'unknown' } });
    const noLoad = { amps: null, watts: null, ampsIfOpposing: null };
    const page = buildSheet(sheetParts({ build: unknown, need: null }, { noLoad }));
    expect(page).toContain('turns not known, 10 more');
    expect(rowOf(page, /No-load amps/)).toMatch(/not known: no sweep tells.*several times as much/);
    expect(page).toContain('Surge and fuse are not known: they need the resistance of the primary.');
    expect(rowOf(page, /old and added turns/)).toMatch(
      /more than the feed.*less than the feed: the added turns oppose/,
    );
    expect(rowOf(page, /near ends/)).toContain('anything else: do not join');
    expect(page).toContain('it may stand at thousands of volts');
    expect(page).not.toContain('No-load watts');
  });

  test('feeds no more than keeps every known winding within 50 V', () => {
    // 12 V on 250 turns would put 120 V on 2,500; 5 V puts 50 V there.
    const tall = {
      ...primary,
      windingId: 5,
      fields: {
        ...primary.fields,
        label: 'HV',
        role: 'other' as const,
        turns: { kind: 'counted' as const, turns: 2500 },
        oneEndOnCore: 'yes' as const,
      },
    };
    const page = buildSheet(sheetParts({ build: { ...build, windings: [primary, tall] } }));
    expect(rowOf(page, /the feed itself/)).toMatch(/ 5 .* V /);
    expect(page).toContain('HV: one end is on the core by design; lift it first');
    expect(page).toContain('One end of this winding is joined to the core.');
  });

  test('shows cautions where they apply, and those alone', () => {
    const plain = buildSheet(sheetParts());
    const all = buildSheet(
      sheetParts(
        {
          practice: true,
          core: { ...core, fields: { ...core.fields, fromAppliance: true } },
          build: { ...build, fields: { ...build.fields, shunts: 'out' } },
        },
        { outputs: [{ ...cutter, loadVolts: 60 }, second] },
      ),
    );
    for (const text of [
      'An output over 50 V a.c. needs protection against touch',
      'far larger fault current|much larger fault current',
      'keeps thousands of volts in its capacitor',
      'Leave the magnetron whole',
      'the rule by mass holds for minutes',
      'Practice readings',
    ]) {
      expect(all).toMatch(new RegExp(text));
      expect(plain).not.toMatch(new RegExp(text));
    }
    for (const text of [
      'Eye and hearing protection',
      'Varnish gives off',
      'A starting figure, not a rule',
      'Dim: as expected',
    ]) {
      expect(plain).toContain(text);
    }
    // 1.2 V and 0.6 V at 12 V on the primary.
    expect(rowOf(all, /E1 joined to S2/)).toMatch(/ 1\.8 .*0\.6 V: they oppose/);
    expect(all).toContain('The half turn closes round the outside of an outer limb');
  });

  test('says what changed since, and that a newer version is there', () => {
    const page = buildSheet(
      sheetParts({
        versions: 3,
        stale: [{ kind: 'result', calculation: 'excitation', resultId: 9, wallMs: 0, isFirst: false }],
      }),
    );
    expect(page).toContain('Out of date.');
    expect(page).toContain('Measured again since: no-load sweep.');
    expect(page).toContain('Version 3 of this plan is newer than this one.');
    expect(buildSheet(sheetParts({ versions: 3 }))).toContain('Not the newest.');
  });

  test('draws the window to scale, every strand in its layer and none over another', () => {
    const { fields } = sheetParts().version;
    const page = buildSheet(sheetParts());
    const scale = Number(/translate\([^)]*\) scale\(([\d.]+)\)/.exec(page)?.[1]);
    const [, width, height] = /data-part="window" width="([\d.]+)" height="([\d.]+)"/.exec(page) ?? [];
    expect([Number(width), Number(height)]).toEqual([fields.window.widthMm, fields.window.heightMm]);
    // The bar of 10 mm is drawn in the units of the whole drawing.
    expect(Number(/class="bar" d="M8 \d+h([\d.]+)m/.exec(page)?.[1])).toBeCloseTo(10 * scale, 1);
    const films = [...page.matchAll(/class="film" d="([^"]*)"/g)].map(([, path]) => (path?.match(/M/g) ?? []).length);
    expect(films).toEqual([34, 16]);
    const places = plannedRows(fields).flatMap(({ middles }) => middles);
    for (const [index, { x, y }] of places.entries()) {
      expect(x - 0.757).toBeGreaterThanOrEqual(fields.window.innerMm);
      expect(x + 0.757).toBeLessThanOrEqual(fields.window.widthMm - fields.window.clearanceMm);
      expect(y - 0.757).toBeGreaterThanOrEqual(cutter.marginMm - 1e-9);
      expect(y + 0.757).toBeLessThanOrEqual(fields.window.heightMm - cutter.marginMm);
      for (const other of places.slice(index + 1)) {
        expect(Math.hypot(other.x - x, other.y - y)).toBeGreaterThanOrEqual(1.514);
      }
    }
    // Up the second layer: its first turn lies beside the last of the first.
    const [down, up] = plannedRows(fields);
    expect(up?.middles[0]?.y).toBeCloseTo(down?.middles[32]?.y ?? NaN, 9);
  });

  test('escapes every text of the record, wherever it stands', () => {
    const marked = fc.string({ unit: 'grapheme', maxLength: 12 }).map((text) => `<i x='1' y="2">&${text}`);
    fc.assert(
      fc.property(marked, (text) => {
        const page = buildSheet(
          sheetParts(
            {
              need: text,
              programVersion: text,
              zone: text,
              core: { ...core, fields: { ...core.fields, label: text } },
              build: { ...withPrimary({ label: text }), fields: { ...build.fields, title: text, separation: text } },
              stale: [{ kind: 'winding-added', after: { ...primary.fields, label: text } }],
            },
            {
              title: text,
              outputs: [
                {
                  ...cutter,
                  label: text,
                  wire: { ...cutter.wire, name: text },
                  taps: [{ label: text, turns: 3, noLoadVolts: { value: 1, u: null } }],
                },
                { ...second, label: text },
              ],
            },
          ),
        );
        expect(page).not.toMatch(/<i[ >]/);
        expect(page).not.toContain(`'1'`);
      }),
      { numRuns: 20, seed: 20_310_314 },
    );
  });
});
