import type { Ink } from '../chart/chart.ts';
import { procedureById } from '../procedure/table.ts';
import { wordsOf } from './happenings.ts';

/** What a channel of a run is called: by its procedure, or by its own name where no procedure knows it. */
export const channelLabel = (procedure: string, channel: string): string =>
  procedureById(procedure)?.channels.find(({ id }) => id === channel)?.label ?? wordsOf(channel);

/** What a procedure is called. */
export const procedureTitle = (procedure: string): string => procedureById(procedure)?.title ?? wordsOf(procedure);

/** A question of a procedure and its answer, in words; by its own name where no procedure knows it. */
export function answerWords(procedure: string, id: string, answer: number | string): { name: string; text: string } {
  const known = procedureById(procedure);
  const field = [...(known?.asks ?? []), ...(known?.fields ?? [])].find((one) => one.id === id);
  if (field === undefined) return { name: wordsOf(id), text: String(answer) };
  if (field.kind === 'choice') {
    return { name: field.label, text: field.options.find(({ value }) => value === answer)?.label ?? String(answer) };
  }
  const unit = field.kind === 'number' && field.unit !== '' ? ` ${field.unit}` : '';
  return { name: field.label, text: `${answer}${unit}` };
}

/** The colour of the material where a curve is one of a winding's or the core's own temperature; ink otherwise. */
export function inkOf(channel: string, unit: string): Ink {
  if (unit !== '°C') return 'ink';
  if (channel.includes('winding')) return 'copper';
  return channel.includes('core') ? 'steel' : 'ink';
}
