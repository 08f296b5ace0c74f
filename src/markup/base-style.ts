/**
 * What every page shares: paper and ink, thin lines like contours, figures of one width. Contrast by WCAG 2.2
 * (1.4.3, 1.4.11): ink on paper 16:1, faint ink 6:1, rules of cells and boxes 3:1 at least, light and dark.
 */
export const BASE_STYLE = `
:root{color-scheme:light dark;--paper:#fbfaf5;--desk:#eeece3;--ink:#1d1c19;--faint:#5a574f;--hair:#8a867a}
@media (prefers-color-scheme:dark){
:root{--paper:#191a1b;--desk:#101112;--ink:#e9e6dd;--faint:#aaa69b;--hair:#77746b}
}
*{box-sizing:border-box}
html{scroll-behavior:smooth;-webkit-text-size-adjust:100%}
@media (prefers-reduced-motion:reduce){html{scroll-behavior:auto}}
body{margin:0;background:var(--desk);color:var(--ink);line-height:1.5;
font-family:"Source Sans 3","Noto Sans","Segoe UI","Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans Condensed",sans-serif;
font-variant-numeric:tabular-nums lining-nums;overflow-wrap:break-word}
h1,h2,h3{line-height:1.2;font-family:"Iowan Old Style",Palatino,"Palatino Linotype","Noto Serif",Georgia,serif}
h1,h2,h3,p,ul,ol,figure,table{margin:0}
a{color:inherit;text-underline-offset:.2em}
:focus-visible{outline:3px solid currentColor;outline-offset:2px}
.unseen,.skip:not(:focus){position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.skip:focus{position:absolute;left:.5rem;top:.5rem;padding:.6rem;background:var(--paper);z-index:1}
.whole{white-space:nowrap}
.on-paper{display:none}
@media print{.on-paper{display:block}}
.shapes{position:absolute;width:0;height:0}
@media (forced-colors:active){
:root{--paper:Canvas;--desk:Canvas;--ink:CanvasText;--faint:CanvasText;--hair:CanvasText}
}
`;
