import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { calcVerb } from '../../../src-main/command/calc-verb.ts';
import { calculations } from '../../../src-shared/calculation/table.ts';

const root = resolve(import.meta.dirname, '..', '..', '..');

/** The command as a process of its own, with something on standard input. */
function calc(args: readonly string[], input = '') {
  const done = spawnSync(process.execPath, [resolve(root, 'src-main/command/calc.ts'), ...args], {
    input,
    encoding: 'utf8',
  });
  return { code: done.status, out: done.stdout, error: done.stderr };
}

/** The same without a process. */
const verb = (args: readonly string[], input = '') => calcVerb(args, () => Promise.resolve(input));

const parsed = (text: string): unknown => JSON.parse(text);

describe('calc', () => {
  it('lists every calculation with its title, one a line', async () => {
    const { exitCode, text } = await verb(['--list']);
    expect(exitCode).toBe(0);
    const lines = text.trimEnd().split('\n');
    expect(lines).toHaveLength(Object.keys(calculations).length);
    expect(lines.find((line) => line.startsWith('test-coil '))).toContain(calculations['test-coil'].title);
  });

  it('prints the input of a calculation as JSON Schema', async () => {
    const { exitCode, text } = await verb(['test-coil', '--schema']);
    expect(exitCode).toBe(0);
    expect(parsed(text)).toMatchObject({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      type: 'object',
      required: ['readings'],
      additionalProperties: false,
    });
  });

  it('answers with one JSON object and nothing on standard error', () => {
    const { code, out, error } = calc(
      ['test-coil'],
      JSON.stringify({ readings: [{ coilTurns: 10, coilVolts: 10, primaryVolts: 120 }] }),
    );
    expect(code).toBe(0);
    expect(error).toBe('');
    expect(parsed(out)).toMatchObject({
      ok: true,
      name: 'test-coil',
      version: 1,
      results: { primaryTurns: { value: 120, u: 0, unit: 'turns' }, nearestWholeTurns: 120 },
    });
  });

  it.each([
    ['an unknown name, with the nearest', ['test-coli'], '{}', 'unknown-calculation', '"test-coil"'],
    ['an unknown name asked for its schema', ['wires', '--schema'], '', 'unknown-calculation', '"wire"'],
    ['no input', ['wire'], '', 'no-input', 'standard input'],
    ['only spaces', ['wire'], ' \n', 'no-input', 'standard input'],
    ['text that is not JSON', ['wire'], '{"awg": 12', 'bad-json', 'not JSON'],
    ['an unknown key', ['wire'], '{"agw": 12}', 'unknown-key', '"awg"'],
    ['a number that JSON cannot hold', ['wire'], '{"diameterMm": 1e999}', 'not-finite', 'finite'],
    ['no arguments', [], '', 'no-input', '--list'],
    ['an unknown option', ['--all'], '', 'no-input', '--list'],
    ['too many arguments', ['wire', '--schema', 'now'], '', 'no-input', '--list'],
  ])('refuses %s with exit code 2', async (_, args, input, errorCode, words) => {
    const { exitCode, text } = await verb(args, input);
    expect(exitCode).toBe(2);
    const answer = parsed(text) as { ok: boolean; error: { code: string; message: string; path: string } };
    expect(answer.ok).toBe(false);
    expect(Object.keys(answer.error)).toEqual(['code', 'message', 'path']);
    expect(answer.error.code).toBe(errorCode);
    expect(answer.error.message).toContain(words);
  });

  it('says where the refused value is', () => {
    const { code, out } = calc(['test-coil'], '{"readings":[{"coilTurns":10,"coilVolts":0,"primaryVolts":120}]}');
    expect(code).toBe(2);
    expect(parsed(out)).toMatchObject({ ok: false, error: { code: 'zero', path: 'readings.0.coilVolts' } });
  });

  it('reads input that begins with a byte order mark', async () => {
    expect((await verb(['wire'], '\uFEFF{"awg": 12}')).exitCode).toBe(0);
  });
});
