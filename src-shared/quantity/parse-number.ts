import { convert, unitNamed, type UnitSymbol } from './unit.ts';

/** Why a typed number was not taken. */
export type NumberRefusal = 'empty' | 'not-a-number' | 'two-separators' | 'unknown-unit' | 'wrong-unit';

export type ParsedNumber =
  { readonly ok: true; readonly value: number } | { readonly ok: false; readonly code: NumberRefusal };

const refused = (code: NumberRefusal): ParsedNumber => ({ ok: false, code });

/**
 * Reads a number as people type it: decimal comma or point, exponent allowed. `1,234` is one and a bit; two separators
 * (`1,234.5`) are refused, since nobody can tell a thousands mark from a decimal one.
 */
export function parseNumber(text: string): ParsedNumber {
  const typed = text.trim().replace(/^[−–]/, '-');
  if (typed === '') return refused('empty');
  if ((typed.match(/[.,]/g) ?? []).length > 1) return refused('two-separators');
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d{1,3})?$/i.test(typed)) return refused('not-a-number');
  const value = Number(typed.replace(',', '.'));
  return Number.isFinite(value) ? { ok: true, value } : refused('not-a-number');
}

/** Reads a number with or without a unit behind it, and gives it in `unit`: `2 in` for mm is 50.8. */
export function parseQuantity(text: string, unit: UnitSymbol): ParsedNumber {
  const split = /^\s*([+\-−–]?[\d.,]+(?:e[+-]?\d+)?)\s*(\D.*)?$/i.exec(text);
  const written = split?.[2]?.trim();
  const parsed = parseNumber(split?.[1] ?? text);
  if (!parsed.ok || written === undefined || written === '') return parsed;
  const from = unitNamed(written);
  if (from === null) return refused('unknown-unit');
  const value = convert(parsed.value, from, unit);
  return value === null ? refused('wrong-unit') : { ok: true, value };
}
