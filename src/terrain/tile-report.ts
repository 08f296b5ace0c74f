import type { Note } from '../errors.ts';
import type { Surface, TileInfo } from './surface.ts';

/** What is told about one elevation tile. */
export interface TileReport {
  readonly path: string;
  readonly format: TileInfo['format'];
  readonly crs: string;
  /** Centres of the outermost postings, degrees. */
  readonly westDeg: number;
  readonly southDeg: number;
  readonly eastDeg: number;
  readonly northDeg: number;
  readonly columns: number;
  readonly rows: number;
  readonly postingM: number;
  readonly unit: TileInfo['unit'];
  readonly unitAssumed: boolean;
  /** `null` when the header does not state it. */
  readonly verticalReference: string | null;
  /** Share of void postings, 0 to 1. */
  readonly voidShare: number;
  readonly notes: readonly Note[];
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
