import { cssText } from '../markup/plain-text.ts';
import { PAGE_NAMES, type PlanDocument } from './plan-document.ts';

/**
 * How a plan is printed: black on white, on A4 or Letter as the printer has it (no size is set), each page of the plan
 * on a new sheet, no row, box or line to write on cut in two. Nothing is smaller than 9 pt.
 */
export const PRINT_STYLE = `
@page{margin:12mm;
@top-left{font:9pt sans-serif}@top-right{font:9pt sans-serif}
@bottom-right{font:9pt sans-serif;content:"sheet " counter(page) " of " counter(pages)}
}
@media print{
:root{color-scheme:light;--paper:#fff;--desk:#fff;--ink:#000;--faint:#000;--hair:#555}
html,body{background:#fff;color:#000;font-size:10pt;line-height:1.35}
.skip,nav{display:none}
/* Each sheet has a heading of its own; the title over all of them is for those who hear the print. */
.top{position:absolute;width:1px;height:1px;padding:0;overflow:hidden;clip-path:inset(50%)}
main{max-width:none;padding:0;margin:0}
.page{border:0;padding:0;margin:0;background:none}
.page+.page{break-before:page}
.of,figcaption,.page footer,small,thead th,thead td{font-size:9pt}
h1,h2{font-size:16pt}
h3{font-size:12pt}
h2,h3,.page>header,thead{break-after:avoid;break-inside:avoid}
.rule{height:6mm;margin:0 0 1mm}
section{margin:0 0 3.4mm}
p,li{orphans:3;widows:3}
p,tr,li,figure,footer{break-inside:avoid}
p:has(+table),p:has(+ul){break-after:avoid}
/* A short table, such as the times of the day, is seen as a whole, with its heading. */
.page:not(.one-sheet) section:has(table):not(:has(tr:nth-child(11))){break-inside:avoid}
thead{display:table-header-group}
section p{max-width:none;margin:.8mm 0}
table{margin:1.2mm 0;font-size:9.5pt}
th,td{padding:.9mm 2.5mm .9mm 0}
tr>:first-child{padding-left:1.5mm}
td.write{height:9mm}
.many{font-size:9pt;line-height:1.25}
.many th,.many td{padding:.8mm 1.6mm .8mm 0}
.many tr>:first-child{padding-left:1.2mm}
.ticks,.blanks{margin:1.2mm 0}
.ticks li{max-width:none;padding:.6mm 0 .6mm 6.5mm}
.ticks li::before{left:.3mm;top:1.1mm;width:3.4mm;height:3.4mm;border-width:1.2pt}
.blanks{grid-template-columns:1fr 1fr;gap:0 7mm}
.blanks li{min-height:8mm;padding-top:1mm}
.line{flex-basis:25mm;min-height:5mm}
.gap{width:14mm}
.drawing{margin:1mm 0 3mm}
.drawing:not(.numbered) ol{display:none}
footer{break-before:avoid}
.page footer{padding-top:1.2mm}
.page footer p+p{margin-top:.6mm}
.one-sheet{font-size:9pt;line-height:1.17}
.emergency,.participants{line-height:1.1}
.emergency .of,.participants .of{display:none}
.one-sheet footer p,.office footer p{display:inline;margin:0}
/* One sheet wherever the party has no more leaders than usual: room is taken from what is read, none from what is written. */
.office{line-height:1.28}
.office .rule{height:4mm}
.office section{margin:0 0 2mm}
.office section p{margin:.5mm 0}
.office .ticks{columns:2;column-gap:7mm}
.office .blanks{margin:.4mm 0}
.one-sheet h2{font-size:13pt}
.one-sheet h3{font-size:10.5pt;line-height:1.1;margin-bottom:.3mm}
.one-sheet .rule{height:2.4mm;margin:0 0 .4mm}
.one-sheet .sections{columns:2;column-gap:6mm;padding-bottom:1.5mm}
.one-sheet section{margin:0 0 1.2mm}
.one-sheet .wide{column-span:all}
.one-sheet section p{margin:.3mm 0}
.one-sheet table{margin:.6mm 0;font-size:9pt}
.one-sheet th,.one-sheet td{padding:.2mm 1.2mm .2mm 0}
.one-sheet tr>:first-child{padding-left:.8mm}
.one-sheet td.write{height:7mm}
.one-sheet .ticks,.one-sheet .blanks{margin:.5mm 0}
.one-sheet .ticks li{padding:.3mm 0 .15mm 5mm}
.one-sheet .ticks li::before{top:.5mm;width:2.6mm;height:2.6mm}
.one-sheet .blanks{grid-template-columns:1fr}
.one-sheet .blanks li{min-height:6.2mm;padding-top:.5mm}
.one-sheet .line{min-height:5mm}
.one-sheet .gap{width:10mm}
}
`;

/**
 * Rules that print the plan's title and the page's name at the head of every sheet, the second and later ones of a
 * page too (CSS Paged Media 3, page-margin boxes). A browser that has no such boxes leaves them out; the page's own
 * head says the same on its first sheet.
 */
export function runningHeads({ title, pages }: PlanDocument): string {
  return pages
    .map(
      ({ key }) =>
        `@page ${key}{@top-left{content:${cssText(title)}}@top-right{content:${cssText(PAGE_NAMES[key])}}}.${key}{page:${key}}`,
    )
    .join('\n');
}
