import { describe, expect, it } from 'vitest';
import { askedWords, needWords } from '../../../src-shared/ranking/need-words.ts';
import { judge } from '../../../src-shared/ranking/verdict.ts';
import { reasonOf, shareWords } from '../../../src-shared/ranking/words.ts';
import { demand, facts, nothingKnown } from './given.ts';

describe('a need in words', () => {
  it('says volts, amps, what they feed, how long, and the circuit', () => {
    expect(needWords(demand().need, 'metric')).toBe('24 V, 12 A a.c., 10 min on and 20 min off, on 230 V 50 Hz, 16 A');
    const { circuit: _circuit, ...hours } = demand({ use: { kind: 'continuous' }, ambientCelsius: 30 }).need;
    expect(needWords(hours, 'us')).toBe('24 V, 12 A a.c., for hours, in a room of 86 °F');
  });

  it('says what it asks of the winding, behind a rectifier as a range', () => {
    expect(askedWords({ volts: 24, amps: 12, feeds: 'ac' })).toBe('288 VA of the winding');
    // (24 + 2 × 0.9) / √2 = 18.2 V; 1.6 and 1.8 × 10 A.
    expect(askedWords({ volts: 24, amps: 10, feeds: 'bridge' })).toBe(
      '292 to 328 VA: 18.2 V and up to 18 A r.m.s. of the winding',
    );
    // (24 + 0.9) / √2 = 17.6 V; 1.8 × 10 A / √2 in each half.
    expect(askedWords({ volts: 24, amps: 10, feeds: 'centre-tap' })).toMatch(
      /^398 to 448 VA: two halves of 17.6 V, up to 12.7 A r.m.s. in each$/,
    );
  });
});

describe('the reason of a standing', () => {
  const reason = (...[core, need]: readonly [Parameters<typeof judge>[0], Parameters<typeof demand>[0]]) =>
    reasonOf(judge(core, demand(need)), demand(need).need.amps);

  it('is the tightest where everything is met', () => {
    expect(reason(facts({ primaryWireMm: 0.7 }), {}).words).toBe('Everything is met; the tightest is flux, 79 %.');
    expect(reason(facts({ primaryWireMm: 0.7, heat: null, insulation: null }), {}).words).toBe(
      'All that is known is met; the tightest is flux, 79 %.',
    );
  });

  it('is what is close, without anything that would have to give', () => {
    expect(reason(facts(), {})).toEqual({
      words:
        'Copper in window: 99.8 mm² of copper, 292 mm² of primary beside it: 33 % of the window: only just, by hand.',
      gives: null,
    });
  });

  it('is what refuses it, with what would have to give', () => {
    const { words, gives } = reason(facts(), { amps: 90 });
    expect(words).toBe('Iron and window: 2160 VA of about 800 VA at 5.4 A/mm².');
    // The window is the narrowest: (0.4 × 1200 − 292) mm² for the copper of the need, 90 A take 749 mm².
    expect(gives).toBe('23 A instead of 90 A');
    const beyond = reason(facts({ turns: { value: 206, u: 0 } }), { amps: 90 });
    expect(beyond.gives).toMatch(/^3\d A instead of 90 A; a new primary: 375 turns for 1.4 T$/);
  });

  it('is what would tell most where nothing is known', () => {
    expect(reason(nothingKnown(3), {}).words).toBe(
      'Nothing says yet what it can do. Primary turns: A test coil finds them: the flux and the turns of the need follow.',
    );
  });

  it('says a share in whole percent, and what has none in a word', () => {
    const { aspects } = judge(facts(), demand());
    expect(aspects.map(shareWords)).toEqual(['25 %', '36 %', '79 %', '82 %', '18 %', '9 %', 'met']);
  });
});
