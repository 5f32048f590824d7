/** The style of a printed sheet: black on white, fonts of the system, nothing fetched. */
export const sheetStyle = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 24px; max-width: 820px; background: #fff; color: #1f2328;
  font: 15px/1.45 system-ui, "Segoe UI", "Liberation Sans", Arial, sans-serif; }
h1 { margin: 0; font-size: 25px; line-height: 1.2; }
h2 { margin: 26px 0 8px; font-size: 17px; border-bottom: 1.5px solid #1f2328; padding-bottom: 3px; }
h3 { margin: 16px 0 6px; font-size: 15px; }
p { margin: 6px 0; }
.above, .small { color: #4b5056; font-size: 13.5px; }
.fig, td.n { font-family: ui-monospace, "DejaVu Sans Mono", "Liberation Mono", Consolas, monospace;
  font-variant-numeric: tabular-nums; font-size: 0.94em; }
table { width: 100%; border-collapse: collapse; }
th, td { padding: 4px 10px 4px 0; text-align: left; vertical-align: top; border-top: 1px solid #c9c4b8;
  overflow-wrap: anywhere; }
thead th { border-top: 0; font-size: 13px; }
tbody th { width: 24%; font-weight: 600; }
td.n { white-space: nowrap; }
.wide td, .wide th { padding-right: 8px; font-size: 13px; }
.wide thead th { white-space: nowrap; }
.gone { color: #4b5056; text-decoration: line-through; }
.practice { margin: 0 0 14px; padding: 8px 12px; border: 2.5px dashed #1f2328; font-size: 18px; font-weight: 700; }
.trip { margin: 10px 0; padding: 8px 12px; border: 2px solid #b3261e; }
.trip b { color: #b3261e; }
.cautions { margin: 6px 0; padding: 0 0 0 20px; }
.cautions li { margin: 4px 0; }
.say { margin: 10px 0 4px; font-size: 19px; line-height: 1.4; }
.work { margin: 5px 0; padding-left: 12px; border-left: 3px solid #c9c4b8; overflow-wrap: anywhere; }
figure { margin: 10px 0 4px; }
svg.chart { display: block; width: 100%; height: auto; }
svg text { font: 11.5px ui-monospace, "DejaVu Sans Mono", "Liberation Mono", Consolas, monospace; fill: #4b5056; }
svg .grid { stroke: #dcd7cb; } svg .edge { stroke: #8d8573; }
svg .curve { fill: none; stroke-width: 1.6; stroke-linejoin: round; stroke-linecap: round; }
svg .curve.ink { stroke: #1f2328; } svg .curve.copper { stroke: #b5652f; } svg .curve.steel { stroke: #5f686f; }
svg .dots circle { stroke: #fff; stroke-width: 0.8; }
svg .dots.ink { fill: #1f2328; } svg .dots.copper { fill: #b5652f; } svg .dots.steel { fill: #5f686f; }
svg .band { opacity: 0.18; } svg .band.ink { fill: #1f2328; }
svg .band.copper { fill: #b5652f; } svg .band.steel { fill: #5f686f; }
svg .level path { fill: none; stroke: #1f2328; stroke-width: 1.2; stroke-dasharray: 2 3; }
svg .level.limit path { stroke: #b3261e; stroke-width: 2; stroke-dasharray: none; }
svg .level.warn path { stroke: #7d5800; stroke-width: 1.5; stroke-dasharray: 6 4; }
svg .level text { font-family: system-ui, "Liberation Sans", Arial, sans-serif; font-weight: 600; fill: #1f2328;
  paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
svg .level.limit text { fill: #b3261e; } svg .level.warn text { fill: #7d5800; }
svg .mark .stem { stroke: #8d8573; stroke-dasharray: 1 3; } svg .mark .shape { fill: #fff; stroke: #1f2328; stroke-width: 1.4; }
svg .mark.trip .stem { stroke: #b3261e; stroke-dasharray: none; } svg .mark.trip .shape { fill: #b3261e; stroke: #b3261e; }
svg .mark.kept .shape { fill: none; stroke-width: 2; }
svg .mark text { font-family: system-ui, "Liberation Sans", Arial, sans-serif; fill: #1f2328; }
.key { display: flex; flex-wrap: wrap; gap: 4px 18px; margin: 4px 0 0; padding: 0; list-style: none; font-size: 13.5px; }
.key svg { width: 34px; height: 10px; vertical-align: middle; }
.steps { margin: 6px 0; padding: 0; list-style: none; }
.steps li { display: grid; grid-template-columns: 22px minmax(0, 1fr); gap: 8px; padding: 4px 0; break-inside: avoid; }
.steps .box { width: 17px; height: 17px; margin-top: 2px; border: 1.6px solid #1f2328; border-radius: 2px; }
.steps small, .cut small, .fill small { display: block; color: #4b5056; font-size: 13px; line-height: 1.35; }
.cut { margin: 8px 0; }
.cut th, .cut td { padding: 6px 10px 6px 0; font-size: 14.5px; }
.cut tbody th { width: 22%; } .cut .big { font-size: 18px; }
.beside { display: grid; grid-template-columns: 330px minmax(0, 1fr); gap: 18px; align-items: start; margin: 6px 0; }
.beside figure { margin: 0; }
svg.window { display: block; width: 330px; height: auto; }
svg .iron { fill: #5f686f; } svg .free { fill: #fff; } svg .under { stroke: #b5652f; stroke-width: 0.3; }
svg .hatch { stroke: #b5652f; stroke-width: 1.4; } svg .insulation { fill: #efe2ad; }
svg .film { fill: #efe2ad; stroke: #8d8573; stroke-width: 0.05; } svg .metal { fill: #8f4a1d; }
svg .bar { fill: none; stroke: #1f2328; stroke-width: 1.4; }
svg .which { font-size: 16px; font-weight: 700; fill: #1f2328; }
svg .on { fill: #1f2328; paint-order: stroke; stroke: #fff; stroke-width: 5px; stroke-linejoin: round; }
.fill { table-layout: fixed; } .fill th, .fill td { padding: 4px 10px 4px 0; font-size: 13.5px; overflow-wrap: break-word; }
.fill tbody th { font-weight: 400; } .fill th:nth-child(1) { width: 33%; } .fill th:nth-child(2) { width: 19%; }
.fill th:nth-child(3) { width: 13%; } .stacked th:nth-child(1) { width: 58%; } .stacked th:nth-child(n + 2) { width: 21%; }
.two { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 0 28px; }
.fill td.n { white-space: normal; }
.fill td.blank { vertical-align: bottom; white-space: nowrap; }
.fill td.blank span { display: block; height: 22px; border-bottom: 1.4px solid #1f2328; text-align: right; color: #4b5056; }
.line { display: inline-block; width: 130px; height: 1.1em; border-bottom: 1.4px solid #1f2328; vertical-align: bottom; }
.no-power { margin: 10px 0; padding: 8px 12px; border: 2px solid #1f2328; font-weight: 700; }
footer { margin-top: 26px; padding-top: 8px; border-top: 1px solid #c9c4b8; color: #4b5056; font-size: 13px; }
@page { margin: 8mm 12mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 10.5pt; }
  h2, h3, thead { break-after: avoid; }
  figure, tr, .work, .trip, .practice, .no-power, li { break-inside: avoid; }
  .overleaf { break-before: page; margin-top: 0; }
  .build { font: 9.3pt/1.25 Arial, "Liberation Sans", "DejaVu Sans Condensed", system-ui, sans-serif; }
  .build h1 { font-size: 17pt; } .build h2 { margin: 6px 0 3px; font-size: 11.5pt; } .build h3 { margin: 3px 0 1px; font-size: 10.5pt; }
  .build p { margin: 3px 0; } .build .small, .build small, .build footer, .build .above { font-size: 8.5pt; }
  .build .steps { columns: 2; column-gap: 24px; margin: 3px 0; } .build .steps li { padding: 2.5px 0; }
  .build .steps.few { columns: 1; }
  .build .trip, .build .practice { margin: 4px 0; padding: 4px 10px; } .build .trip ul { margin: 2px 0; }
  .build .beside { grid-template-columns: 270px minmax(0, 1fr); gap: 14px; } .build svg.window { width: 270px; }
  .build .fill th, .build .fill td { padding: 1px 8px 1px 0; font-size: 8.8pt; } .build .fill td.blank span { height: 14px; }
  .build .cautions { margin: 3px 0; } .build .cautions li { margin: 2px 0; } .build footer { margin-top: 5px; padding-top: 2px; }
  .build .no-power { margin: 3px 0; padding: 3px 10px; }
  thead { display: table-header-group; }
}
`;
