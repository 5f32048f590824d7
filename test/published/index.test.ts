import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { calculationNames } from '../../src-shared/calculation/table.ts';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { homes } from './homes.ts';

const here = import.meta.dirname;
const texts = readdirSync(here)
  .filter((name) => name.endsWith('.test.ts') && name !== 'index.test.ts')
  .map((name) => readFileSync(join(here, name), 'utf8'));

describe('published checks', () => {
  it('have a home each, or a reason why not', () => {
    expect(Object.keys(homes).sort()).toEqual(Object.keys(checks).sort());
    for (const home of Object.values(homes)) {
      if ('none' in home) expect(home.none.length).toBeGreaterThan(20);
    }
  });

  it.each(
    Object.entries(homes).filter(
      ([, home]) =>
        'data' in home ||
        'quantity' in home ||
        'library' in home ||
        ('calculation' in home && calculationNames.includes(home.calculation)),
    ),
  )('%s is checked by name in this folder', (id) => {
    expect(
      texts.filter((text) => text.includes(`'${id}'`) || text.includes(`${id}:`) || text.includes(`${id} `)),
    ).not.toHaveLength(0);
  });
});
