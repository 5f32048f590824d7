import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { App } from '../../../src-main/app.ts';
import { serialMeter, type Ask } from '../../walk.ts';
import { openPtyPair, type PtyPair } from '../meter/pty-pair.ts';
import { startApp } from './start-app.ts';

describe('a meter on the list', () => {
  let folder = '';
  let pair: PtyPair;
  let app: App;
  let ask: Ask;

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'turnwright-meters-'));
    pair = await openPtyPair();
    ({ app, ask } = startApp(folder));
  });
  afterEach(async () => {
    await app.close();
    await pair.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const describedAs = (label: string) => serialMeter(label, pair.programEnd);

  it('leaves its port free when it is taken off the list in the middle of a trial', async () => {
    const { meterId } = await ask('meter.save', { description: describedAs('Grey hand meter') });
    await ask('meter.try', { description: describedAs('Grey hand meter') });
    await ask('meter.retire', { meterId, reason: 'broken' });
    await ask('meter.try-stop', {});
    const next = await ask('meter.save', { description: describedAs('Yellow hand meter') });
    expect((await ask('meter.list', {})).map((meter) => meter.meterId)).toEqual([next.meterId]);
  });
});
