import { BASE_STYLE } from './base-style.ts';

/** The drawing's ink: the colour of the text around it, so that it holds on paper, dark screens and in grey. */
export const PROFILE_STYLE = `
.profile text{font-size:13px;fill:currentColor}
.profile .axes text{font-size:12px;opacity:.8}
.profile .label{paint-order:stroke;stroke:var(--paper,#fffdf8);stroke-width:3px;stroke-linejoin:round}
.profile .ground{fill:none;stroke:currentColor;stroke-width:1.8;stroke-linejoin:round}
.profile .hatch{stroke:currentColor;stroke-width:1.1}
.profile .treeline{stroke:currentColor;stroke-dasharray:7 4}
.profile .leader{fill:none;stroke:currentColor;stroke-width:.7}
.profile circle{fill:var(--paper,#fffdf8);stroke:currentColor;stroke-width:1.8}
`;

/** A table as a card for each row: the name of the column beside each value. */
const cards = (table: string): string => `
${table},${table} tbody,${table} tr,${table} th,${table} td{display:block;width:auto}
${table} thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
${table} tr{border:1px solid var(--hair);padding:.4rem .7rem;margin:.6rem 0}
${table} .marked{border:2px solid currentColor;border-left-width:6px}
${table} .marked>*{border:0}
${table} th,${table} td,${table} tr>:first-child{border:0;padding:.12rem 0}
${table} th{font-weight:700}
${table} .whole{white-space:normal}
${table} td{display:grid;grid-template-columns:8.5rem 1fr;gap:.6rem}
${table} td::before{content:var(--name);color:var(--faint);font-size:.9rem;font-weight:400}
${table} td.write{height:auto;min-height:2.2rem;border-bottom:1px dotted var(--hair)}
`;

export const SCREEN_STYLE = `
${BASE_STYLE}
.top,nav,main{max-width:56rem;margin:0 auto;padding:0 1rem}
.top{padding-top:1.2rem}
h1{font-size:1.5rem}
body>[role=status]{padding:.8rem 1rem 0;margin:0 auto;max-width:56rem}
.to-pages{display:none}
main:focus,nav:focus,.page:focus{outline:0}
nav ul{list-style:none;padding:.4rem 0 1rem;display:flex;flex-wrap:wrap;gap:0 1.2rem}
nav a{display:inline-block;padding:.6rem 0;min-height:2.75rem}
main{padding-bottom:2rem}
.page{background:var(--paper);border:1px solid var(--hair);padding:1rem clamp(.8rem,4vw,2.2rem) 1.2rem;margin-bottom:1.6rem;scroll-margin-top:.5rem}
.of,.page footer,figcaption{color:var(--faint);font-size:.875rem}
h2{font-size:1.5rem;margin-top:.1rem}
.rule{display:block;width:100%;height:1.9rem;color:var(--hair);stroke-width:1;margin:.1rem 0 .2rem}
.drawing{margin:.4rem 0 1rem}
.profile{display:block;width:100%;height:auto}
.profile.narrow{display:none}
.drawing ol{display:none;padding-left:2.2em;margin:.4rem 0;columns:20rem;column-gap:1.5rem}
.drawing.numbered ol{display:block}
section{margin:0 0 1.3rem}
h3{font-size:1.1rem;margin-bottom:.35rem}
section p{margin:.3rem 0;max-width:44rem}
small{font-size:.8em;color:var(--faint);white-space:nowrap}
table{border-collapse:collapse;width:100%;margin:.5rem 0}
th,td{text-align:left;vertical-align:top;padding:.35rem .7rem .35rem 0;border-bottom:1px solid var(--hair)}
thead th,thead td{border-bottom:2px solid currentColor;vertical-align:bottom;font-size:.9rem}
tbody th{font-weight:400}
tr>:first-child{padding-left:.5rem}
.marked>*{font-weight:700;border-top:2px solid currentColor;border-bottom:2px solid currentColor}
.marked>:first-child{border-left:5px solid currentColor}
td.write{min-width:4rem;height:2.4rem;border-left:1px dotted var(--hair)}
.many{font-size:.875rem}
.ticks,.blanks{list-style:none;padding:0;margin:.5rem 0}
.ticks li{position:relative;padding:.2rem 0 .2rem 1.9rem;max-width:44rem}
.ticks li::before{content:"";position:absolute;left:.15rem;top:.42rem;width:1.05rem;height:1.05rem;border:1.5px solid currentColor}
.blanks{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,20rem),1fr));gap:0 1.5rem}
.blanks li{display:flex;flex-wrap:wrap;align-items:flex-end;gap:0 .5rem;min-height:2.4rem;padding-top:.4rem}
.blanks li>:first-child{max-width:100%}
.line{flex:1 1 7rem;border-bottom:1px solid currentColor;min-height:1.4rem}
.gap{display:inline-block;width:3.6rem;border-bottom:1px solid currentColor;margin:0 .3rem;height:1.2em;vertical-align:baseline}
.page footer{border-top:1px solid var(--hair);padding-top:.5rem}
.page footer p+p{margin-top:.3rem}
@media screen and (max-width:40rem){
body{line-height:1.45}
.top,nav{padding:0 .8rem}
.top{padding-top:.9rem}
main{padding:0 0 4rem}
.to-pages{display:block;position:fixed;right:.6rem;bottom:.6rem;z-index:1;padding:.6rem 1.1rem;min-height:2.75rem;background:var(--paper);border:2px solid currentColor;color:inherit;font-weight:600}
.page{border-width:1px 0}
h1,h2{font-size:1.3rem}
.profile.wide{display:none}
.profile.narrow,.drawing ol{display:block}
${cards('.cards')}
}
@media screen and (max-width:62rem){
${cards('.many')}
}
${PROFILE_STYLE}
@media (forced-colors:active){
.profile text,.profile .label{fill:CanvasText}
.profile .label{stroke:Canvas}
.profile circle{fill:Canvas}
}
`;
