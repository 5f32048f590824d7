import { expect, test } from 'vitest';
import { isolatedAt, liveAt, lowSetUp, openedSession, provingAt, readyAt, trippedAt } from './scene.ts';

test('each scene is in the state that it is named after', () => {
  const kinds = [openedSession(), isolatedAt(), readyAt(), liveAt(), trippedAt(), provingAt()].map(({ kind }) => kind);
  expect(kinds).toEqual(['unproved', 'isolated', 'ready', 'live', 'tripped', 'proving']);
  expect(
    [isolatedAt(lowSetUp), readyAt(lowSetUp), liveAt(lowSetUp), provingAt(lowSetUp)].map(({ kind }) => kind),
  ).toEqual(['isolated', 'ready', 'live', 'proving']);
});
