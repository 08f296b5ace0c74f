import type { TileInfo } from './surface.ts';

/**
 * What is known of a tile's heights from outside the file: settings beside it, a catalogue that lists it, its name.
 * `null` where nothing is stated.
 */
export interface Stated {
  readonly unit: TileInfo['unit'] | null;
  /** The file that states the unit: a header that says otherwise is then refused. `null`: the header wins. */
  readonly unitBy: string | null;
  readonly verticalReference: string | null;
  /** The number that means void, before scale and offset. */
  readonly nodata: number | null;
  /** Instead of the band's own. */
  readonly scale: number | null;
  readonly offset: number | null;
  /** Words that must or should stand on whatever is made from the heights. */
  readonly attribution: readonly string[];
  readonly licence: string | null;
  /** When the heights were published, ms since 1970. */
  readonly dateMs: number | null;
}

export const NOTHING_STATED: Stated = {
  unit: null,
  unitBy: null,
  verticalReference: null,
  nodata: null,
  scale: null,
  offset: null,
  attribution: [],
  licence: null,
  dateMs: null,
};

/** One statement over another: what the first leaves open the second fills. */
export function statedOver(first: Stated, second: Stated): Stated {
  const unitFrom = first.unit === null ? second : first;
  return {
    unit: unitFrom.unit,
    unitBy: unitFrom.unitBy,
    verticalReference: first.verticalReference ?? second.verticalReference,
    nodata: first.nodata ?? second.nodata,
    scale: first.scale ?? second.scale,
    offset: first.offset ?? second.offset,
    attribution: first.attribution.length > 0 ? first.attribution : second.attribution,
    licence: first.licence ?? second.licence,
    dateMs: first.dateMs ?? second.dateMs,
  };
}
