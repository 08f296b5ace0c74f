import { MAP_STYLE } from '../drawing/map/map-style.ts';
import { PACE_STYLE } from '../drawing/pace-chart.tsx';
import { BASE_STYLE } from '../markup/base-style.ts';
import { PROFILE_STYLE } from '../markup/screen-style.ts';
import { SHORTLIST_STYLE } from './cohort/shortlist-part.tsx';
import { COHORT_STYLE } from './cohort/view.tsx';
import { PLAN_PAGE_STYLE } from './plan/view.tsx';
import { REACH_STYLE } from './reach.tsx';
import { ROUTE_STYLE } from './route/view.tsx';
import { ROUTES_STYLE } from './routes/view.tsx';
import { ROUTES_MAP_STYLE } from './routes-map.tsx';
import { SEASON_FORM_STYLE } from './season/form-view.tsx';
import { SEASON_BOARD_STYLE } from './season/view.tsx';

/** Head, main part and foot of every page of the service. */
const SHELL_STYLE = `
:root{--contour:#8b5e34}
@media (prefers-color-scheme:dark){:root{--contour:#c39a6c}}
@media (forced-colors:active){:root{--contour:CanvasText}}
body{background:var(--paper);min-height:100vh;display:flex;flex-direction:column}
.site,.foot,main{width:100%;max-width:78rem;margin-inline:auto;padding-inline:clamp(.8rem,3vw,2rem)}
.site{display:flex;flex-wrap:wrap;align-items:center;gap:0 1.6rem;padding-top:.5rem}
.site .name{font:600 1.35rem/1.2 "Iowan Old Style",Palatino,"Palatino Linotype","Noto Serif",Georgia,serif;text-decoration:none;display:inline-flex;align-items:center;min-height:2.75rem;letter-spacing:.01em}
.site ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:0 1.2rem}
.site nav a{display:inline-flex;align-items:center;min-height:2.75rem;text-decoration:none;border-bottom:3px solid transparent}
.site nav a:hover{text-decoration:underline}
.site nav a[aria-current]{border-color:var(--contour);font-weight:600}
.units{margin-left:auto;display:flex;align-items:center;gap:.2rem}
.units button{border-color:transparent;background:none;padding-inline:.6rem;min-width:2.75rem}
.units button[aria-pressed=true]{border-color:var(--hair)}
.rule{display:block;width:100%;height:1.9rem;color:var(--contour);stroke-width:1}
.site+.rule{margin:.1rem 0 .9rem}
main{flex:1 0 auto;padding-bottom:2.5rem}
main:focus{outline:0}
.foot{font-size:.875rem;color:var(--faint);padding-block:.8rem 1.6rem;border-top:1px solid var(--hair)}
.foot p+p{margin-top:.25rem}
.way{font-size:.9rem;color:var(--faint)}
.way a{display:inline-flex;align-items:center;min-height:2.75rem;margin-block:-.5rem}
h1{font-size:clamp(1.5rem,4vw,2rem);margin:.1rem 0 .5rem;text-wrap:balance}
h2{font-size:1.3rem;margin:1.6rem 0 .5rem}
h3{font-size:1.05rem;margin:1rem 0 .3rem}
main p{max-width:46rem;margin:.4rem 0}
main ul:not([class]),main ol:not([class]){padding-left:1.3rem;max-width:46rem;margin:.4rem 0}
.lead{font-size:1.1rem}
.quiet{color:var(--faint);font-size:.9rem}
.box{border:1px solid var(--hair);padding:.8rem 1rem;margin:1rem 0;max-width:52rem}
.box>:first-child{margin-top:0}
.notice{border-left:6px solid currentColor}
.row{display:flex;flex-wrap:wrap;gap:.6rem 1rem;align-items:center;margin:.8rem 0}
.num{text-align:right}
[hidden]{display:none!important}
@media screen and (max-width:36rem){
.site nav{order:3;width:100%}
}
@page{margin:12mm}
@media print{
:root{color-scheme:light;--paper:#fff;--desk:#fff;--ink:#000;--faint:#000;--hair:#555;--contour:#000}
body{font-size:10pt;line-height:1.35}
.skip,.site nav,.units,.way,.asked,button,.button,.screen,details:not([open]),summary{display:none!important}
fieldset{break-inside:avoid;max-width:none}
.hint{display:none}
input,select,textarea{border-width:0 0 1px;min-height:0;padding:.2mm 0}
.site,.foot,main{max-width:none;padding:0}
h1,h2,h3{break-after:avoid}
h2{font-size:13pt}
.lead{font-size:11pt}
.quiet,.foot{font-size:9pt}
tr,li,figure{break-inside:avoid}
thead{display:table-header-group}
a{text-decoration:none}
}
`;

/** Controls: every one large enough for gloves. */
const FORM_STYLE = `
button,.button,input,select,textarea{font:inherit;color:inherit;background:var(--paper);border:1px solid var(--hair);border-radius:2px;min-height:2.75rem;padding:.45rem .7rem;max-width:100%}
input,select,textarea{width:100%;border-color:var(--faint)}
textarea{min-height:6rem}
button,.button{display:inline-flex;align-items:center;justify-content:center;gap:.4rem;cursor:pointer;border-color:currentColor;text-decoration:none}
button:hover,.button:hover{text-decoration:underline;text-underline-offset:.2em}
.main{background:var(--ink);color:var(--paper);border-color:var(--ink);font-weight:600}
input[type=checkbox],input[type=radio]{width:1.5rem;height:1.5rem;min-height:0;margin:0;accent-color:var(--ink);flex:none}
.tick{display:flex;align-items:center;gap:.6rem;min-height:2.75rem;cursor:pointer}
input[type=file]{padding:.6rem;height:auto}
label,legend,.label{font-weight:600}
.tick,.tick label{font-weight:400}
fieldset{border:1px solid var(--hair);padding:.6rem 1rem 1rem;margin:1.2rem 0;min-width:0;max-width:60rem}
legend{padding:0 .4rem;margin-left:-.4rem;font-size:1.05rem}
.fields{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,15rem),1fr));gap:.8rem 1.2rem;align-items:start}
.fields .wide{grid-column:1/-1}
.field>label{display:block}
.hint{font-size:.875rem;color:var(--faint);margin:.15rem 0 .25rem}
.fault{font-weight:600;margin:.15rem 0}
.fault::before{content:"! ";font-weight:700}
[aria-invalid=true]{border-width:3px}
.ticks-row{display:flex;flex-wrap:wrap;gap:0 1.2rem}
details>summary{cursor:pointer;min-height:2.75rem;padding:.6rem 0;text-decoration:underline;text-underline-offset:.2em}
`;

/** Tables, and what becomes of wide ones on a phone: a card for each row, each value with its name. */
const TABLE_STYLE = `
table{border-collapse:collapse;width:100%;margin:.5rem 0}
caption{text-align:left;padding:.2rem 0}
th,td{text-align:left;vertical-align:top;padding:.45rem .8rem .45rem 0;border-bottom:1px solid var(--hair)}
thead th{border-bottom:2px solid currentColor;vertical-align:bottom;font-size:.9rem}
tbody th{font-weight:600}
td.num,th.num{text-align:right;white-space:nowrap;padding-right:1.4rem}
thead td{border-bottom:2px solid currentColor}
td .name{display:none}
@media screen and (max-width:52rem){
table.cards,.cards tbody,.cards tr,.cards th,.cards td{display:block;width:auto}
.cards thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.cards tr{border:1px solid var(--hair);padding:.5rem .8rem;margin:.7rem 0}
.cards caption{display:block}
.cards th,.cards td{border:0;padding:.15rem 0;text-align:left;white-space:normal}
.cards td{display:inline-block;margin-right:.9rem;vertical-align:top}
.cards td .name{display:inline;color:var(--faint)}
}
`;

export const SITE_STYLE = [
  BASE_STYLE,
  SHELL_STYLE,
  FORM_STYLE,
  TABLE_STYLE,
  REACH_STYLE,
  SHORTLIST_STYLE,
  COHORT_STYLE,
  ROUTES_STYLE,
  PLAN_PAGE_STYLE,
  SEASON_FORM_STYLE,
  SEASON_BOARD_STYLE,
].join('\n');

/** The second style sheet, of pages with maps, profiles and charts: lists load without it. */
export const DRAWING_STYLE = [PROFILE_STYLE, MAP_STYLE, ROUTE_STYLE, PACE_STYLE, ROUTES_MAP_STYLE].join('\n');
