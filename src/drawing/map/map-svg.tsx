import type { BoundingBox } from '../../earth/geodesic.ts';
import type { UnitSystem } from '../../units.ts';
import { tenth } from '../profile/profile-drawing.ts';
import { frameTicks, scaleBar } from './frame-ticks.ts';
import type { MapMark } from './map-marks.ts';
import type { TerrainDrawing } from './terrain-drawing.ts';

/** Room under the map for scale and north. */
const BELOW = 62;
const TICK = 8;
const TICKS = 5;

export interface MapView {
  readonly title: string;
  readonly terrain: TerrainDrawing;
  readonly frame: BoundingBox;
  readonly shadeHref: string;
  readonly lines: readonly string[];
  readonly marks: readonly MapMark[];
  /** `null`: not known, or not the same for all routes on the map. */
  readonly treelineM: number | null;
  readonly noTreelineText: string;
  readonly sources: readonly string[];
  readonly units: UnitSystem;
}

function Ground({ terrain, shadeHref }: Pick<MapView, 'terrain' | 'shadeHref'>) {
  const { width, height } = terrain;
  return (
    <g clip-path="url(#map-clip)">
      <image class="shade" href={shadeHref} width={width} height={height} preserveAspectRatio="none" />
      <path class="above" d={terrain.aboveTreeline} fill="url(#map-stipple)" fill-rule="evenodd" />
      <path class="steep" d={terrain.steep} fill="url(#map-steep)" fill-rule="evenodd" />
      <path class="void" d={terrain.voids} fill="url(#map-void)" fill-rule="evenodd" />
      <path class="contour" d={terrain.contours} />
      <path class="contour index" d={terrain.indexContours} />
      <path class="treeline" d={terrain.treeline} />
      {terrain.labels.map(({ x, y, angleDeg, text }) => (
        <text
          class="height"
          text-anchor="middle"
          dominant-baseline="central"
          transform={`translate(${tenth(x)} ${tenth(y)}) rotate(${Math.round(angleDeg)})`}
        >
          {text}
        </text>
      ))}
    </g>
  );
}

const TILE = { patternUnits: 'userSpaceOnUse' } as const;

/** The patterns of hatched and stippled ground; once on a page, for map and key. */
const MapPatterns = () => (
  <defs>
    <pattern id="map-stipple" width="12" height="12" {...TILE}>
      <circle class="dot" cx="3" cy="3" r=".8" />
      <circle class="dot" cx="9" cy="9" r=".8" />
    </pattern>
    <pattern id="map-steep" width="5" height="5" {...TILE} patternTransform="rotate(-45)">
      <path class="hatch" d="M0 0V5" />
    </pattern>
    <pattern id="map-void" width="14" height="14" {...TILE}>
      <path class="hatch" d="M0 0L14 14M14 0L0 14" />
    </pattern>
  </defs>
);

/** The edge of the map with round degrees on it. Where they are close on a phone every second is left out. */
function Frame({ terrain: { width, height }, frame }: Pick<MapView, 'terrain' | 'frame'>) {
  const { westDeg, eastDeg, southDeg, northDeg } = frame;
  const { lons, lats } = frameTicks(frame, TICKS);
  // A corner has no room for two.
  const isClear = (at: number, size: number) => at > 60 && at < size - 60;
  const minor = (i: number) => (i % 2 === 1 ? 'minor' : undefined);
  const inside = TICK + 4;
  return (
    <g class="frame">
      <rect width={width} height={tenth(height)} />
      {lons.map(({ deg, text }, i) => {
        const x = tenth(((deg - westDeg) / (eastDeg - westDeg)) * width);
        return (
          <>
            <path d={`M${x} 0V${TICK}M${x} ${tenth(height)}v-${TICK}`} />
            {isClear(x, width) && (
              <text class={minor(i)} x={x} y={inside} text-anchor="middle" dominant-baseline="hanging">
                {text}
              </text>
            )}
          </>
        );
      })}
      {lats.map(({ deg, text }, i) => {
        const y = tenth(((northDeg - deg) / (northDeg - southDeg)) * height);
        return (
          <>
            <path d={`M0 ${y}H${TICK}M${width} ${y}h-${TICK}`} />
            {isClear(y, height) && (
              <text class={minor(i)} x={inside} y={y} dominant-baseline="central">
                {text}
              </text>
            )}
          </>
        );
      })}
    </g>
  );
}

function ScaleAndNorth({ terrain, units }: Pick<MapView, 'terrain' | 'units'>) {
  const { width, height, unitsPerM } = terrain;
  const { length, text } = scaleBar(unitsPerM, 260, units);
  return (
    <g class="scale" transform={`translate(0 ${tenth(height)})`}>
      <path d={`M1 24v8h${tenth(length - 1)}v-8`} />
      <text x={tenth(length + 10)} y={34}>
        {text}
      </text>
      <path d={`M${width - 14} 54V14m-7 12l7-13l7 13`} />
      <text x={width - 30} y={40} text-anchor="end">
        north
      </text>
    </g>
  );
}

/**
 * A map of the ground with routes on it, north up: ink in the colour of the text around it. What it shows is said by the
 * key beside it, once.
 */
export function MapSvg({ view }: { readonly view: MapView }) {
  const { terrain, lines, marks } = view;
  const { width, height } = terrain;
  return (
    <svg class="map" viewBox={`0 0 ${width} ${tenth(height + BELOW)}`} role="img" aria-labelledby="map-title">
      <title id="map-title">{view.title}</title>
      <MapPatterns />
      <clipPath id="map-clip">
        <rect width={width} height={tenth(height)} />
      </clipPath>
      <rect class="paper" width={width} height={tenth(height)} />
      <Ground terrain={terrain} shadeHref={view.shadeHref} />
      {terrain.voidShare > 0.02 && (
        <text class="note" x={width / 2} y={tenth(height - 16)} text-anchor="middle">
          crossed out: no heights here
        </text>
      )}
      {['under', 'route-line'].map((kind) => lines.map((path) => <path class={kind} d={path} />))}
      {marks.map(({ x, y, text, isStart }) => (
        <g transform={`translate(${tenth(x)} ${tenth(y)})`}>
          <g class="mark">
            {isStart ? <rect x="-6" y="-6" width="12" height="12" /> : <circle r="5" />}
            <text x="10" dominant-baseline="central">
              {text}
            </text>
          </g>
        </g>
      ))}
      <Frame terrain={terrain} frame={view.frame} />
      <ScaleAndNorth terrain={terrain} units={view.units} />
    </svg>
  );
}
