/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren } from 'preact';
import { Words } from '../../markup/words.tsx';
import { heightText, stepText } from '../../text/words.ts';
import { MapSvg, type MapView } from './map-svg.tsx';
import { STEEP_DEG } from './terrain-drawing.ts';

const keyEntry = (swatch: ComponentChildren, text: string) => (
  <li>
    <svg viewBox="0 0 34 16" aria-hidden="true" focusable="false">
      {swatch}
    </svg>
    <span>
      <Words text={text} />
    </span>
  </li>
);

const filled = (pattern: string, height: number) => (
  <rect width="34" height={height} fill={`url(#map-${pattern})`} />
);

/** What a map shows beyond its lines, in the sentences of its key. */
function wordsOf({ terrain, treelineM, noTreelineText, units }: MapView): readonly string[] {
  const { intervalText, voidShare, slopeOverM } = terrain;
  const share = Math.ceil(voidShare * 100);
  return [
    intervalText === null
      ? 'No heights are known here: add elevation tiles for this area.'
      : `Contours every ${intervalText}; every fifth is heavier and has its height.`,
    treelineM === null
      ? noTreelineText
      : `Treeline, ${heightText(treelineM, units)}; ground above it is stippled.`,
    `Hatched: steeper than ${STEEP_DEG}° over ${stepText(Math.round(slopeOverM), units)} of ground. Shorter steps and walls do not show.`,
    ...(voidShare === 0
      ? []
      : [`Crossed out: no heights are known on ${share} % of this map. It may be anything.`]),
  ];
}

export function MapFigure({ view }: { readonly view: MapView }) {
  const { terrain, sources, treelineM } = view;
  const [contours = '', treeline = '', steep = '', voids] = wordsOf(view);
  const hasTreeline = treelineM !== null && terrain.treeline !== '';
  return (
    <figure class="map-figure" aria-label="Map and key">
      <MapSvg view={view} />
      <figcaption>
        <ul class="key">
          {keyEntry(
            <>
              <path class="contour" d="M0 3C12 3 20 7 34 6M0 13c12 0 20 3 34 2" />
              <path class="contour index" d="M0 8c12 0 20 4 34 3" />
            </>,
            contours,
          )}
          {keyEntry(
            <>
              {hasTreeline && filled('stipple', 8)}
              <path class="treeline" d={hasTreeline ? 'M0 10H34' : 'M0 8H34'} />
            </>,
            treeline,
          )}
          {keyEntry(filled('steep', 16), steep)}
          {voids !== undefined && keyEntry(filled('void', 16), voids)}
        </ul>
        <p class="quiet">
          Latitude and longitude WGS 84. Drawn from elevation tiles alone: no path, stream, building or name
          is on it. Heights from {sources.length === 0 ? 'no tile' : sources.join('; ')}.
        </p>
      </figcaption>
    </figure>
  );
}
