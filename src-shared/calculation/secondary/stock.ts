import type * as v from 'valibot';
import { awgDiameterMm, awgNumber, thickestAwg, thinnestAwg } from '../../quantity/awg.ts';
import { refuse, type Refusal } from '../answer.ts';
import { conductors, metals } from '../conductor.ts';
import { choice, group, optional, plainNumber, text, wholeNumberOrName } from '../field.ts';
import { filmedWire, films, filmWords } from '../film.ts';
import { layOfStrands } from './cable.ts';
import {
  cableOption,
  diameterName,
  gaugeName,
  roundOption,
  stripOption,
  wireKinds,
  type WireOption,
} from './wire-option.ts';

const mm = { unit: 'mm', above: 0, atMost: 100 } as const;

/** One wire of the stock. */
export const stockWire = group({
  name: optional(text({ label: 'What it is called' })),
  kind: optional(choice(wireKinds, { label: 'Kind' }), 'round'),
  awg: optional(
    wholeNumberOrName(['1/0', '2/0', '3/0', '4/0'], {
      label: 'Gauge (AWG)',
      atLeast: thickestAwg,
      atMost: thinnestAwg,
    }),
  ),
  diameterMm: optional(plainNumber({ label: 'Bare diameter', ...mm })),
  areaMm2: optional(plainNumber({ label: 'Area of the metal', unit: 'mm²', above: 0, atMost: 10_000 })),
  film: optional(choice(films, { label: 'Film', words: filmWords })),
  overallDiameterMm: optional(plainNumber({ label: 'Over the insulation', ...mm })),
  stripWidthMm: optional(plainNumber({ label: 'Bare width of the strip', ...mm })),
  stripThicknessMm: optional(plainNumber({ label: 'Bare thickness of the strip', ...mm })),
  insulationMm: optional(
    plainNumber({ label: 'What insulation adds, both sides together', unit: 'mm', atLeast: 0, atMost: 20 }),
  ),
  metal: optional(choice(metals, { label: 'Metal' }), 'copper'),
});
type StockWire = v.InferOutput<typeof stockWire>;

type Option = { readonly ok: true; readonly option: WireOption } | Refusal;
const found = (option: WireOption): Option => ({ ok: true, option });

function stripOf(given: StockWire, path: string): Option {
  const { stripWidthMm: widthMm, stripThicknessMm: thicknessMm, insulationMm, metal } = given;
  if (widthMm === undefined) return refuse('missing-key', 'A strip needs its width.', `${path}.stripWidthMm`);
  if (thicknessMm === undefined)
    return refuse('missing-key', 'A strip needs its thickness.', `${path}.stripThicknessMm`);
  if (insulationMm === undefined) {
    return refuse('missing-key', 'Say what the insulation adds to the strip; 0 for bare.', `${path}.insulationMm`);
  }
  const name = given.name ?? `${widthMm} × ${thicknessMm} mm strip`;
  return found(stripOption(name, { widthMm, thicknessMm, insulationMm }, { metal }));
}

function bareOf({ awg, diameterMm, areaMm2 }: StockWire): { readonly mm: number; readonly name: string } | null {
  if (awg !== undefined) return { mm: awgDiameterMm(awgNumber(awg)), name: gaugeName(awgNumber(awg)) };
  if (diameterMm !== undefined) return { mm: diameterMm, name: diameterName(diameterMm) };
  return areaMm2 === undefined ? null : { mm: Math.sqrt((4 * areaMm2) / Math.PI), name: `${areaMm2} mm²` };
}

/** What one line of the stock is; refused, under its own path, when its size or its insulation is not told. */
export function optionOf(given: StockWire, path: string): Option {
  const { kind, metal, film, overallDiameterMm } = given;
  if (kind === 'strip') return stripOf(given, path);
  const bare = bareOf(given);
  if (bare === null) return refuse('missing-key', 'Give gauge, bare diameter or area.', `${path}.diameterMm`);
  const told = ['awg', 'diameterMm', 'areaMm2'].filter((key) => Object.hasOwn(given, key));
  if (told.length > 1) return refuse('conflict', `Give only one of ${told.join(', ')}.`, `${path}.${told[1] ?? ''}`);
  const filmed = film === undefined ? null : filmedWire(film, bare.mm);
  const overall = overallDiameterMm ?? filmed?.largestOverallMm ?? null;
  if (overall === null) {
    const text = 'The overall diameter is not told and not in the table of a film: measure it.';
    return refuse('missing-key', text, `${path}.overallDiameterMm`);
  }
  if (overall < bare.mm) {
    return refuse('conflict', 'The overall diameter is smaller than the bare one.', `${path}.overallDiameterMm`);
  }
  const isConfirmed = overallDiameterMm !== undefined || (filmed?.isConfirmed ?? false);
  if (kind === 'round') return found(roundOption(given.name ?? bare.name, bare.mm, overall, { metal, isConfirmed }));
  const areaMm2 = (Math.PI / 4) * bare.mm ** 2;
  const ohmsPerKm20 = ((1000 * conductors[metal].resistivity20) / areaMm2) * layOfStrands;
  const name = given.name ?? `${bare.name} cable`;
  return found(cableOption({ name, areaMm2, overallMm: overall, ohmsPerKm20 }, metal, isConfirmed));
}
