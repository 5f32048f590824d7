import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const read = (firstVolts: number, secondVolts: number, joinedVolts: number, u = 0.05) =>
  accept('polarity', {
    firstVolts: { value: firstVolts, u },
    secondVolts: { value: secondVolts, u },
    joinedVolts: { value: joinedVolts, u },
  });

describe('polarity', () => {
  it.each([
    [12, 6, 18.1, 'aiding'],
    [12, 6, 6.1, 'opposing'],
    [6, 12, 5.9, 'opposing'],
    // Two secondaries joined, and almost nothing comes out: they oppose (common practice, no source).
    [12, 12, 0.1, 'opposing'],
    [12, 6, 12, 'unclear'],
    [12, 6, 40, 'unclear'],
  ])('calls %d V and %d V that join to %d V %s', (first, second, joined, verdict) => {
    expect(read(first, second, joined).results.polarity).toBe(verdict);
  });

  it('is unclear where the smaller winding drowns in the doubt, and says so', () => {
    const answer = read(120, 0.3, 120.3);
    expect(answer.results.polarity).toBe('unclear');
    expect(cautionCodes(answer)).toEqual(['too-small', 'low-voltage-only']);
    expect(cautionCodes(read(12, 6, 40))).toContain('fits-neither');
  });

  it('tells nothing from readings whose doubt nobody knows', () => {
    const answer = accept('polarity', { firstVolts: { value: 12, u: null }, secondVolts: 6, joinedVolts: 18 });
    expect(answer.results.polarity).toBe('unclear');
  });

  it('refuses a winding without volts', () => {
    expect(refusal('polarity', { firstVolts: 12, secondVolts: 0, joinedVolts: 12 })).toMatchObject({
      path: 'secondVolts',
    });
  });
});
