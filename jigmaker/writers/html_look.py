"""How all HTML pages look: one style sheet, black on white, for a screen, from a phone to a desk.

Paper has the PDF, which lays every page out on one sheet. Printed all the same from a browser, nothing is lost: each
page begins on a sheet of its own, on A4 or Letter, and may take two. Under 600 px wide, tables of more than three
columns become a block of lines for each row.
"""

LOOK = """\
@page { margin: 12mm }
* { box-sizing: border-box }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100% }
body { font: 16px/1.4 Helvetica, Arial, sans-serif; color: #000; background: #fff; max-width: 54rem;
  margin: 0 auto; padding: 16px; overflow-wrap: break-word }
h1, h2, h3, p, li, dd, dt, a, figcaption, .long { overflow-wrap: anywhere; min-width: 0 }
h1, h2, h3 { line-height: 1.2; margin: 0; break-after: avoid }
h1 { font-size: 1.7rem; border-bottom: 5px solid #000; padding-bottom: 6px; margin-bottom: 12px }
.sheet h2 { font-size: 1.7rem }
.sheet header { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; gap: 2px 16px;
  border-bottom: 5px solid #000; padding-bottom: 6px }
.sheet + .sheet { margin-top: 4rem }
.part { display: flex; align-items: center; gap: 10px; font-size: 1.15rem; margin: 22px 0 8px }
h3:not(.part), h4 { font-size: 1rem; margin: 14px 0 4px }
.part::after { content: ""; flex: 1 1 24px; border-top: 2px solid #000 }
p { margin: 8px 0 }
a { color: #000; text-underline-offset: 3px }
.where { font-size: 0.85rem; margin: 0 }
.foot { margin-top: 10px; border-top: 1px solid #000; padding-top: 4px }
.contents { columns: 17rem; padding-left: 1.6rem; margin: 12px 0 40px }
.contents li { padding: 5px 0 }
.head { display: flex; flex-wrap: wrap; margin: 0 0 14px; border: solid #000; border-width: 0 0 1px 1px }
h1 + .head { margin-top: -12px }
.head div { flex: 1 1 22%; min-width: 8.5rem; max-width: 100%; padding: 3px 6px 5px;
  border: solid #000; border-width: 1px 1px 0 0 }
.head dt { font-size: 0.8rem; line-height: 1.25 }
.head dd { margin: 0; font-weight: bold; font-size: 1.05rem; line-height: 1.25 }
.head .box { min-height: 34px }
.caution { display: flex; border: 3px solid #000; margin: 12px 0; font-weight: bold; break-inside: avoid }
.caution::before { content: "!"; flex: none; width: 44px; display: flex; align-items: center; justify-content: center;
  font-size: 30px; color: #fff; background: #000; print-color-adjust: exact; -webkit-print-color-adjust: exact }
.caution > span { padding: 8px 12px; align-self: center }
ol.steps { margin: 8px 0; padding-left: 2rem }
.steps li { margin: 5px 0; break-inside: avoid }
.steps li::marker { font-weight: bold }
table { border-collapse: collapse; width: 100%; margin: 8px 0 }
th, td { text-align: left; vertical-align: middle; padding: 4px 6px; border-bottom: 1px solid #000 }
th { font-size: 0.9rem; vertical-align: bottom; border-bottom-width: 2px }
tr { break-inside: avoid }
td.box { border: 1.5px solid #000; min-width: 15mm; width: 18mm; height: 7mm }
.number { font-weight: bold; font-size: 1.08em; white-space: nowrap }
.facts { margin: 8px 0 }
.facts div { display: flex; gap: 10px; padding: 4px 6px; border-bottom: 1px solid #000; break-inside: avoid }
.facts dt { flex: 0 0 26% }
.short { columns: 2; column-gap: 20px }
.short dt { flex-basis: 40% }
.facts dd { margin: 0; flex: 1; font-weight: bold }
.facts .long dd { font-weight: normal }
.facts dd.box { border: 1.5px solid #000; max-width: 60mm; min-height: 7mm }
.figures { display: flex; flex-wrap: wrap; justify-content: space-evenly; align-items: flex-end; gap: 4mm;
  margin: 12px 0 }
figure { margin: 0; max-width: 100%; break-inside: avoid }
figcaption { font-size: 0.9rem; line-height: 1.3; margin-top: 4px }
svg { display: block; width: 100%; height: auto }
.jumps { display: flex; flex-wrap: wrap; gap: 0 16px; list-style: none; padding: 0; margin: 4px 0 10px }
.jumps a { display: block; padding: 5px 0 }
summary { padding: 9px 6px; font-weight: bold }
.files { list-style: none; padding: 0; margin: 8px 0 }
.files li { border-bottom: 1px solid #000 }
.files a { display: block; padding: 7px 6px }
.files span { display: block; font-size: 0.85rem }
@media (max-width: 600px) {
  figure { width: 100% !important }
  .facts.short { columns: 1 }
  .facts dt { flex-basis: 38% }
  table.wide, .wide tbody { display: block }
  .wide thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%) }
  .wide tr { display: flex; flex-wrap: wrap; gap: 2px 8px; padding: 8px 0; border-bottom: 2px solid #000 }
  .wide td { flex: 1 0 100%; display: flex; gap: 10px; border: 0; padding: 0; white-space: normal;
    overflow-wrap: anywhere }
  .wide td::before { content: attr(data-name); flex: 0 0 32%; font-size: 0.9rem; font-weight: normal }
  .wide td:first-child:not(.box) { font-weight: bold }
  .wide td:first-child:not(.box):not(.number)::before, .wide td:not([data-name])::before { content: none }
  .wide td:empty:not(.box) { display: none }
  .wide td.box { flex: 1 0 30%; min-width: 0; height: 46px; padding: 2px 4px; margin-top: 4px;
    border: 1.5px solid #000 }
  .wide td.box::before { flex: 0 1 auto; min-width: 0; font-size: 0.8rem; line-height: 1.2 }
}
@media print {
  html, body { font-size: 10pt; line-height: 1.25 }
  body { max-width: 186mm; padding: 0 }
  .sheet + .sheet { margin-top: 0; break-before: page }
  .cover, .contents, .jumps { display: none }
  p, .caution, .head, .steps, .steps li, table, .facts, .figures { margin-top: 1mm; margin-bottom: 1mm }
  .part { margin: 2mm 0 1mm }
  th, td, .facts div, .caution > span { padding-top: 0.5mm; padding-bottom: 0.5mm }
}
"""
