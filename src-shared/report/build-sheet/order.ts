import { cautionText } from '../../interlock/cautions.ts';
import { formatNumber } from '../../quantity/format.ts';
import { milestonesOf } from '../../tally/progress.ts';
import type { PlannedOutput } from '../../record/planned-output.ts';
import type { BuildSheetParts } from './facts.ts';
import { addedWireMm, oldWindings } from './old-windings.ts';
import { gapMm, type SheetFigures } from './figures.ts';
import { bunchWords, cutWords, sizeWords, turnsWords } from './words.ts';

/** One thing to do, to be ticked off, with what to mind at it. */
export interface Step {
  readonly text: string;
  readonly minds: readonly string[];
}

const step = (text: string, ...minds: readonly string[]): Step => ({
  text,
  minds: minds.filter((mind) => mind !== ''),
});

function beforehand({ core, build }: BuildSheetParts): readonly Step[] {
  const isBonded = build.windings.some(({ fields }) => fields.oneEndOnCore === 'yes');
  const { fromAppliance } = core.fields;
  return [
    step(
      'Plug out and in sight. Prove it dead, on the Bench page or by hand, before a tool touches it.',
      ...(fromAppliance === true ? [cautionText('c-cap', {}), cautionText('c-mag', {})] : []),
    ),
    step(
      'Photograph every lead where it goes. Tag the ends of the primary. Note its resistance and its insulation to the core, to compare with afterwards.',
      isBonded ? 'One end of a winding is joined to the core: find that joint and lift it.' : '',
    ),
  ];
}

function shuntsWords({ build }: BuildSheetParts): string {
  switch (build.fields.shunts) {
    case 'in':
      return 'The magnetic shunts are in. They stay where the record has them, or their removal is written down: it makes room and a stiffer output, and a far larger fault current.';
    case 'out':
      return cautionText('c-shunt', {});
    case 'not-known':
      return 'Look for magnetic shunts between the windings, and write down whether they are there.';
    case 'none':
      return '';
  }
}

/** What is taken off, as the object of a sentence; null where everything stays. */
function offWords(parts: BuildSheetParts): string | null {
  const { isUndescribed, off } = oldWindings(parts);
  if (isUndescribed) return 'whatever old winding is still on';
  return off.length === 0 ? null : off.map((label) => `“${label}”`).join(' and ');
}

/** The core stays whole: common practice with welded cores, no source. */
function closedCore(parts: BuildSheetParts): readonly Step[] {
  const off = offWords(parts);
  if (off === null) return [step('Core stays closed, and what is wound on it stays.', shuntsWords(parts))];
  return [
    step(
      'Core stays closed. Cover what stays with stiff card on both sides of the core, so that no saw and no chip reaches it.',
    ),
    step(
      `Saw ${off} off flush with the core, on both sides. Cut with the saw away from the primary.`,
      cautionText('c-cut', {}),
      'Cut wire flies: hold a cloth over it.',
    ),
    step(
      'Drift what is left out of the windows with a piece of hardwood or brass, evenly, a little from each side in turn. No blow on the primary, none on the laminations.',
      shuntsWords(parts),
    ),
  ];
}

/** The seams are cut and closed again: common practice, no source. */
function openedCore(parts: BuildSheetParts, { gapAmps }: SheetFigures): readonly Step[] {
  const off = offWords(parts);
  return [
    step(
      'Scribe a line over all laminations, so that each goes back where it was. Saw or grind only the beads of the seams, no deeper.',
      cautionText('c-cut', {}),
    ),
    step(
      'Take the core apart. Keep the laminations in their order, flat and dry; count those of an interleaved stack as they come.',
      gapAmps === null
        ? ''
        : `A joint made again shows in the no-load current: every ${sizeWords(gapMm, parts.system)} of gap adds about ${formatNumber(gapAmps, 2)} A.`,
      shuntsWords(parts),
    ),
    step(`${off === null ? '' : `Take ${off} off. `}Deburr what the tool left at the seams.`),
  ];
}

function addedSteps(parts: BuildSheetParts): readonly Step[] {
  const { addedTurns } = parts.version.fields;
  const wireMm = addedWireMm(parts);
  if (addedTurns === 0) return [];
  if (addedTurns < 0) {
    return [
      step(
        `Take ${turnsWords(-addedTurns)} off the primary, from its outer end. Insulate the new end as the old one was.`,
        'Fewer turns mean more flux, more no-load current and more heat.',
      ),
    ];
  }
  return [
    step(
      `Add ${turnsWords(addedTurns)} to the primary, in series with it and the same way round, in ${wireMm === null ? 'wire' : `${sizeWords(wireMm, parts.system)} wire`} insulated for the mains. Cover the joint.`,
      'They stand at mains potential. The wrong way round they subtract: the check before closing up shows it.',
    ),
  ];
}

/** A tap or the end of a layer as it comes up while winding. */
function alongTheWay(output: PlannedOutput): string {
  const words = milestonesOf(output).flatMap((mile) => {
    if (mile.kind === 'tap') return [`tap “${mile.label}” out after turn ${formatNumber(mile.at)}`];
    return mile.kind === 'layer' ? [`layer ${mile.next - 1} full at turn ${formatNumber(mile.at)}`] : [];
  });
  return words.length === 0 ? '' : `On the way: ${words.join('; ')}.`;
}

function outputSteps(parts: BuildSheetParts): readonly Step[] {
  const { system, version } = parts;
  const { outputs, opening, window } = version.fields;
  const onto = opening === 'closed' ? 'through the windows' : 'on the former';
  return outputs.flatMap((output, index) => {
    const { label, turns, wire, baseMm, interlayerMm, marginMm, lengthMm } = output;
    const from = index === 0 ? 'over what is underneath' : `over ${outputs[index - 1]?.label ?? ''}`;
    const together = bunchWords(wire);
    return [
      step(
        `${index + 1} ${label}: insulate ${sizeWords(baseMm, system)} thick ${from}. Cut ${wire.strands === 1 ? '' : `${wire.strands} strands of `}${cutWords(lengthMm, system)}${wire.strands === 1 ? '' : ' each, all alike'}.`,
      ),
      step(
        `Wind ${turnsWords(turns)} ${onto}${together === '' ? '' : `, ${together}`}; ${sizeWords(interlayerMm, system)} between layers, ${sizeWords(marginMm, system)} free at both ends. Tag the start S${index + 1} and the end E${index + 1}.`,
        alongTheWay(output),
        turns % 1 === 0 ? '' : 'The half turn closes round the outside of an outer limb: it couples poorly.',
      ),
      ...(wire.strands === 1
        ? []
        : [step('Leave the strands apart at both ends, until each was measured against the others.')]),
      ...(index === outputs.length - 1
        ? [step(`Cover the last layer; ${sizeWords(window.clearanceMm, system)} stay free to the outer limb.`)]
        : []),
    ];
  });
}

/** Everything from the plug to the last turn, in the order in which it is done. */
export function orderOfWork(parts: BuildSheetParts, figures: SheetFigures): readonly Step[] {
  const isClosed = parts.version.fields.opening === 'closed';
  return [
    ...beforehand(parts),
    ...(isClosed ? closedCore(parts) : openedCore(parts, figures)),
    step(
      'Clean: blow out, wipe, look with a lamp. Then measure the insulation of the primary to the core again; its blank is overleaf.',
    ),
    step('Line every edge that wire will touch: sheared edges cut film.'),
    ...addedSteps(parts),
    ...outputSteps(parts),
    ...(isClosed
      ? []
      : [
          step(
            'Put the core together: welded seams face on face, an interleaved stack alternately as it was, never butted. Clamp it tight, and measure while it is only clamped.',
            'Loose laminations hum and draw more without load.',
          ),
        ]),
  ];
}

/** After the measurements and before the first power: how the core is closed, and the ends made off. */
export function closingSteps(parts: BuildSheetParts): readonly Step[] {
  const { opening, outputs } = parts.version.fields;
  const hasStrands = outputs.some(({ wire }) => wire.strands > 1);
  return [
    ...(opening === 'closed'
      ? []
      : [
          step(
            'Close the core. Tick which:  ☐ re-welded  ☐ clamped  ☐ interleaved. Weld on outer faces only, short beads.',
            'A bead in a window, an uninsulated bolt through the iron or a strap through a window is a shorted turn.',
          ),
        ]),
    step(
      `${hasStrands ? 'Join the strands that were measured. ' : ''}Crimp or solder the ends; sleeve and tie every lead.`,
    ),
  ];
}

/** After the first power. */
export const lastSteps: readonly Step[] = [
  step(
    'Off, plug out. Measure insulation, varnish, let it cure, and measure insulation again.',
    cautionText('c-varn', {}),
  ),
];
