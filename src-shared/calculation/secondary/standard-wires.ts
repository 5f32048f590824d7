import { awgDiameterMm } from '../../quantity/awg.ts';
import { filmedWire } from '../film.ts';
import { iecFilm } from '../film-iec.ts';
import { nemaFilm } from '../film-nema.ts';
import { iecCables, usCables } from './cable.ts';
import { cableOption, diameterName, gaugeName, roundOption, stripOption, type WireOption } from './wire-option.ts';

export const standards = ['metric', 'us', 'both'] as const;
export type Standard = (typeof standards)[number];

/** Thinner wire is not for the outputs of these transformers. */
const thinnestMm = 0.5;

const metricRound = iecFilm
  .filter(({ nominal }) => nominal >= thinnestMm)
  .map(({ nominal, grade2, isConfirmed }) =>
    roundOption(diameterName(nominal), nominal, grade2.largestOverall, { isConfirmed }),
  );

const usRound = nemaFilm.flatMap(({ awg }) => {
  const bareMm = awgDiameterMm(awg);
  const { largestOverallMm = null, isConfirmed = false } = filmedWire('nema-heavy', bareMm) ?? {};
  return largestOverallMm === null ? [] : [roundOption(gaugeName(awg), bareMm, largestOverallMm, { isConfirmed })];
});

export const stripSource =
  'Strip with film: R20 sizes after IEC 60317-0-2, insulation of grade 2 adding at most 0.17 mm, from memory';
const stripWidths = [4, 5, 6.3, 8, 10, 12.5, 16];
const stripThicknesses = [1, 1.25, 1.6, 2, 2.5, 3.15, 4];
const stripInsulation = 0.17;
/** Ratios of width to thickness that are made. */
const flattest = 8;
const stoutest = 1.4;

const strips = stripWidths.flatMap((widthMm) =>
  stripThicknesses
    .filter((thicknessMm) => widthMm / thicknessMm >= stoutest && widthMm / thicknessMm <= flattest)
    .map((thicknessMm) =>
      stripOption(
        `${widthMm} × ${thicknessMm} mm strip`,
        { widthMm, thicknessMm, insulationMm: stripInsulation },
        { isConfirmed: false },
      ),
    ),
);

const cables = (list: typeof iecCables) => list.map((cable) => cableOption(cable, 'copper', false));

const metric = [...metricRound, ...cables(iecCables), ...strips];
const us = [...usRound, ...cables(usCables)];

/** Round wire with film of grade 2 or heavy build, flexible cable, and strip where there is a metric standard. */
export const standardWires: Readonly<Record<Standard, readonly WireOption[]>> = {
  metric,
  us,
  both: [...metric, ...us],
};
