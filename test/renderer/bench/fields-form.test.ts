import { flushSync } from 'svelte';
import { expect, test } from 'vitest';
import { FieldsForm } from '../../../src-renderer/page/bench/fields-form.svelte.ts';
import { noLoadSweep } from '../../../src-shared/procedure/no-load-sweep.ts';

const nothing = { ambient: null, 'primary-turns': null };
const known = { ...nothing, 'primary-turns': 312.25 };

test('starts from what the bench knows, whenever it comes to know it, and leaves alone what a person wrote', () => {
  const form = new FieldsForm(noLoadSweep.fields, {}, nothing);
  const turns = () => form.texts['turns'];
  expect(turns()).toBe('');
  form.know(known);
  flushSync();
  expect(turns()).toBe('312.25');
  form.texts['turns'] = '';
  form.know({ ...known, 'primary-turns': 330 });
  expect(turns()).toBe('');

  const typed = new FieldsForm(noLoadSweep.fields, {}, nothing);
  typed.texts['turns'] = '320';
  typed.know(known);
  expect(typed.texts['turns']).toBe('320');
  expect(new FieldsForm(noLoadSweep.fields, {}, known).texts['turns']).toBe('312.25');
  expect(new FieldsForm(noLoadSweep.fields, { turns: 300 }, known).texts['turns']).toBe('300');
});
