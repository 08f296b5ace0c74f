/**
 * The look of maps: ink of the text around them on paper, lines of three weights, hatching where other maps use
 * colour. On a phone the drawing is less than half as wide: its letters and marks grow so as to stay legible.
 */
export const MAP_STYLE = `
.map{display:block;width:100%;height:auto;overflow:visible}
.map text{font-size:12.5px;fill:currentColor}
.map .paper{fill:var(--paper)}
.map .shade{mix-blend-mode:multiply;opacity:.5}
.map .contour,.key .contour{fill:none;stroke:currentColor;stroke-width:.6;opacity:.62;stroke-linejoin:round}
.map .index,.key .index{stroke-width:1.15;opacity:.8}
.map .height,.map .frame text,.map .note,.map .mark text{paint-order:stroke;stroke:var(--paper);stroke-width:3.5px;stroke-linejoin:round}
.map .height,.map .frame text{font-size:11.5px}
.map .treeline,.key .treeline{fill:none;stroke:currentColor;stroke-width:1.7;stroke-dasharray:7 4}
.map .dot,.key .dot{fill:currentColor;opacity:.75}
.map .hatch,.key .hatch{stroke:currentColor;stroke-width:.7;opacity:.7}
.map .under{fill:none;stroke:var(--paper);stroke-width:7;stroke-linejoin:round;stroke-linecap:round}
.map .route-line{fill:none;stroke:currentColor;stroke-width:3;stroke-linejoin:round;stroke-linecap:round}
.map .mark circle,.map .mark rect{fill:var(--paper);stroke:currentColor;stroke-width:2}
.map .mark text{font-weight:700}
.map .frame rect,.map .frame path,.map .scale path{fill:none;stroke:currentColor;stroke-width:1.2}
.map .here circle{fill:none;stroke:currentColor;stroke-width:2.5}
.map .here .pin{fill:currentColor}
@media (prefers-color-scheme:dark){@media screen{.map .shade{mix-blend-mode:screen;opacity:.22}}}
@media screen and (max-width:40rem){
.map text{font-size:26px}
.map .height{font-size:22px}
.map .frame text{font-size:22px}
.map .minor{display:none}
.map .mark{transform:scale(1.9)}
.map .mark text{font-size:14px}
.map .route-line{stroke-width:5}
.map .under{stroke-width:11}
.map .contour{stroke-width:1}
.map .index{stroke-width:1.9}
.map .here{stroke-width:4}
}
.map-figure{margin:.6rem 0 1rem;max-width:58rem}
.key{list-style:none;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,22rem),1fr));gap:.3rem 1.4rem;margin:.6rem 0;font-size:.9rem}
.key li{display:flex;gap:.7rem;align-items:flex-start}
.key svg{width:2.6rem;flex:none;margin-top:.25rem;border:1px solid var(--hair)}
@media print{.map .shade{opacity:.4}}
@media (forced-colors:active){
.map .shade{display:none}
.map text{fill:CanvasText}
.map .height,.map .frame text,.map .note,.map .mark text{stroke:Canvas}
.map .under{stroke:Canvas}
.map .mark circle,.map .mark rect,.map .paper{fill:Canvas}
}
`;
