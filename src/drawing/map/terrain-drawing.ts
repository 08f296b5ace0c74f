import { type Lattice, letOthersRun } from '../../terrain/lattice.ts';
import type { UnitSystem } from '../../units.ts';
import { contourLabels, type LabelledLine } from './contour-labels.ts';
import { contourLevels } from './contour-levels.ts';
import { isolines, type NetPoint, pathText, regions, type ValueNet } from './isolines.ts';
import { type MapScale, mapScale } from './map-scale.ts';
import { gradients, slopeRatios } from './relief.ts';

/** Ground steeper than this is hatched: where slab avalanches begin (avalanche.org: slopes of 30 to 50°). */
export const STEEP_DEG = 30;

/** Areas smaller than this, in squares of the net, are not hatched or stippled (design). */
const LEAST_AREA = 4;

export interface TerrainWishes {
  /** Metres; `null`: not known, nothing is drawn of it. */
  readonly treelineM: number | null;
  readonly units: UnitSystem;
  /** Places on Earth to keep labels clear of, `[lon, lat]`. */
  readonly lines: readonly (readonly (readonly [number, number])[])[];
}

const closed = (rings: readonly (readonly NetPoint[])[], { ofNet }: MapScale): string =>
  rings.map((ring) => pathText(ring.map(ofNet), true)).join('');

/** The ground of a lattice as the data of SVG paths, in units of the map. Other work goes on between one contour and the next. */
export async function drawTerrain(lattice: Lattice, wishes: TerrainWishes) {
  const { columns, rows, heightsM } = lattice;
  const scale = mapScale(lattice);
  const net: ValueNet = { columns, rows, values: heightsM };
  const known = heightsM.filter((heightM) => !Number.isNaN(heightM));
  const voids = heightsM.length - known.length;
  const lowM = known.reduce((least, heightM) => Math.min(least, heightM), Number.POSITIVE_INFINITY);
  const highM = known.reduce((most, heightM) => Math.max(most, heightM), Number.NEGATIVE_INFINITY);
  const isKnown = known.length > 0;
  const { intervalText, levels } = contourLevels(isKnown ? lowM : 0, isKnown ? highM : 0, wishes.units);
  let contours = '';
  let indexContours = '';
  const labelled: LabelledLine[] = [];
  for (const { heightM, text, isIndex } of levels) {
    for (const { points, isClosed } of isolines(net, heightM)) {
      const drawn = points.map(scale.ofNet);
      if (isIndex) {
        indexContours += pathText(drawn, isClosed);
        labelled.push({ points: drawn, text });
      } else contours += pathText(drawn, isClosed);
    }
    await letOthersRun();
  }
  const avoid = wishes.lines.flat().map(([lonDeg, latDeg]) => scale.ofPlace(lonDeg, latDeg));
  const labels = contourLabels(labelled, scale, avoid);
  await letOthersRun();
  const steep = regions(
    { columns, rows, values: slopeRatios(gradients(lattice)) },
    Math.tan((STEEP_DEG * Math.PI) / 180),
    LEAST_AREA,
  );
  await letOthersRun();
  const isVoid = heightsM.map((heightM) => (Number.isNaN(heightM) ? 1 : 0));
  const { treelineM } = wishes;
  const hasTreeline = treelineM !== null && isKnown && treelineM < highM;
  const drawnAt = (levelM: number) =>
    isolines(net, levelM)
      .map(({ points, isClosed }) => pathText(points.map(scale.ofNet), isClosed))
      .join('');
  return {
    width: scale.width,
    height: scale.height,
    unitsPerM: scale.unitsPerM,
    /** `50 m`; `null`: no height is known. */
    intervalText: isKnown ? intervalText : null,
    contours,
    indexContours,
    labels,
    // Empty where none is on the map.
    treeline: hasTreeline ? drawnAt(treelineM) : '',
    aboveTreeline: hasTreeline ? closed(regions(net, treelineM, LEAST_AREA), scale) : '',
    steep: closed(steep, scale),
    voids: voids === 0 ? '' : closed(regions({ columns, rows, values: isVoid }, 0.5, 0), scale),
    /** Share of the map without heights, 0 to 1. */
    voidShare: voids / heightsM.length,
    /** Distance over which slopes were taken. */
    slopeOverM: 2 * Math.max(lattice.eastM, lattice.southM),
  };
}

export type TerrainDrawing = Awaited<ReturnType<typeof drawTerrain>>;
