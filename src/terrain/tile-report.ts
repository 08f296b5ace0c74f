import type { Surface, TileInfo } from './surface.ts';

/** What is told about one elevation tile. */
export interface TileReport extends Omit<TileInfo, 'nodata' | 'stepLonDeg' | 'stepLatDeg'> {
  /** Share of void postings, 0 to 1. */
  readonly voidShare: number;
}

/** Describes every tile of a surface, in order of priority; reads each tile whole, one after the other. */
export async function tileReport(surface: Surface): Promise<TileReport[]> {
  const reports: TileReport[] = [];
  for (const [index, tile] of surface.sources.entries()) {
    const voidShare = await surface.voidShare(index);
    const { nodata: _nodata, stepLonDeg: _stepLon, stepLatDeg: _stepLat, ...told } = tile;
    // Reading may have added a note.
    reports.push({ ...told, voidShare, notes: [...tile.notes] });
  }
  return reports;
}
