/** @jsxRuntime automatic @jsxImportSource preact */
import type { ComponentChildren, VNode } from 'preact';
import { Words } from '../../markup/words.tsx';
import type { MapFrame } from '../../terrain/lattice.ts';
import { heightText, stepText } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import type { MapMark } from './map-marks.ts';
import { MapSvg } from './map-svg.tsx';
import { STEEP_DEG, type TerrainDrawing } from './terrain-drawing.ts';

/** A map with all that its key says. */
export interface MapView {
  readonly title: string;
  readonly terrain: TerrainDrawing;
  readonly frame: MapFrame;
  readonly shadeHref: string;
  /** Data of SVG paths. */
  readonly lines: readonly string[];
  readonly marks: readonly MapMark[];
  /** `null`: not known, or not the same for all routes on the map. */
  readonly treelineM: number | null;
  /** What to say of treeline where there is none. */
  readonly noTreelineText: string;
  /** Where the heights come from, a line each. */
  readonly sources: readonly string[];
  readonly units: UnitSystem;
}

function KeyEntry({
  swatch,
  children,
}: {
  readonly swatch: VNode;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <li>
      <svg viewBox="0 0 34 16" aria-hidden="true" focusable="false">
        {swatch}
      </svg>
      <span>{children}</span>
    </li>
  );
}

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

/** A map with its key and where it comes from. */
export function MapFigure({ view }: { readonly view: MapView }): VNode {
  const { terrain, frame, shadeHref, lines, marks, title, sources, treelineM, units } = view;
  const [contours = '', treeline = '', steep = '', voids] = wordsOf(view);
  const hasTreeline = treelineM !== null && terrain.treeline !== '';
  return (
    <figure class="map-figure" aria-label="Map and key">
      <MapSvg
        terrain={terrain}
        frame={frame}
        shadeHref={shadeHref}
        lines={lines}
        marks={marks}
        units={units}
        title={title}
      />
      <figcaption>
        <ul class="key">
          <KeyEntry
            swatch={
              <>
                <path class="contour" d="M0 3C12 3 20 7 34 6M0 13c12 0 20 3 34 2" />
                <path class="contour index" d="M0 8c12 0 20 4 34 3" />
              </>
            }
          >
            {contours}
          </KeyEntry>
          <KeyEntry
            swatch={
              hasTreeline ? (
                <>
                  <rect width="34" height="8" fill="url(#map-stipple)" />
                  <path class="treeline" d="M0 10H34" />
                </>
              ) : (
                <path class="treeline" d="M0 8H34" />
              )
            }
          >
            <Words text={treeline} />
          </KeyEntry>
          <KeyEntry swatch={<rect width="34" height="16" fill="url(#map-steep)" />}>{steep}</KeyEntry>
          {voids !== undefined && (
            <KeyEntry swatch={<rect width="34" height="16" fill="url(#map-void)" />}>{voids}</KeyEntry>
          )}
        </ul>
        <p class="quiet">
          Latitude and longitude WGS 84. Drawn from elevation tiles alone: no path, stream, building or name
          is on it. Heights from {sources.length === 0 ? 'no tile' : sources.join('; ')}.
        </p>
      </figcaption>
    </figure>
  );
}
