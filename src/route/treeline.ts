import regionTable from '../../data/tables/treeline-regions.json' with { type: 'json' };
import { at } from '../array.ts';
import type { Design } from '../design.ts';
import type { Place } from '../earth/geodesic.ts';
import { inOutline } from '../earth/in-outline.ts';

export type TreelineSource = 'route' | 'program' | 'region' | 'unknown';

export interface Treeline {
  /** Height of treeline used, metres; `null`: nothing states it. */
  readonly treelineM: number | null;
  readonly source: TreelineSource;
  /** Where the value comes from, or what to state, for people. */
  readonly text: string;
  /** Lowest and highest height at which treeline is believable here, metres. */
  readonly rangeM: { readonly low: number; readonly high: number };
}

/**
 * Height of treeline by latitude alone, metres: 2,200 m at 47°, +75 m a degree towards 50° from the pole side,
 * +130 m a degree from 50° to 30°, at most 3,750 m (Körner, Alpine Plant Life, as quoted in encyclopedias).
 * Up to 1,172 m too high (Katahdin), the unsafe side: bounds a range, never a verdict's treeline.
 * @example latitudeTreelineM(51) // 1735
 */
export function latitudeTreelineM(latDeg: number): number {
  const lat = Math.abs(latDeg);
  const at50 = 2200 - 3 * 130;
  const height = lat >= 50 ? at50 - (lat - 50) * 75 : 2200 + (47 - lat) * 130;
  return Math.min(3750, Math.max(0, height));
}

/** Poleward of this latitude trees keep closer to the rule. */
const HIGHLANDS_TO_DEG = 35;

/**
 * A treeline that is higher than any, metres above the latitude rule. The highest forest known, junipers at 4,900 m and
 * 29.7° N (Miehe et al. 2007, Mountain Research and Development 27:169–173), lies 1,150 m above it; from 35° on the
 * highest we know of do by 590 (Altai, 50°: from memory, no source at hand).
 */
export const mostTreelineM = (latDeg: number): number =>
  latitudeTreelineM(latDeg) + (Math.abs(latDeg) < HIGHLANDS_TO_DEG ? 1250 : 700);

/**
 * The treeline of a route: its own, else the program's, else a published regional value (its lower bound) whose
 * outline holds every place given, else unknown. One that is higher than trees grow there counts as not stated.
 */
export function treelineFor(
  statedM: number | null,
  places: readonly Place[],
  design: Design['treeline'],
): Treeline {
  const exactly = (treelineM: number) => ({ treelineM, rangeM: { low: treelineM, high: treelineM } });
  const mostM = places.length === 0 ? Number.POSITIVE_INFINITY : mostTreelineM(at(places, 0).latDeg);
  if (statedM !== null && statedM <= mostM)
    return { ...exactly(statedM), source: 'route', text: 'stated for the route' };
  const { programM } = design;
  if (programM !== null && programM <= mostM)
    return { ...exactly(programM), source: 'program', text: 'set by the program' };
  const region =
    places.length === 0
      ? undefined
      : regionTable.regions.find((candidate) =>
          places.every((place) => inOutline(place, candidate.outline as [number, number][])),
        );
  if (region !== undefined) {
    return {
      treelineM: region.lowM,
      source: 'region',
      text: `${region.name}: ${region.source}`,
      rangeM: { low: region.lowM, high: region.highM },
    };
  }
  const ruleM = latitudeTreelineM(at(places, 0).latDeg);
  return {
    treelineM: null,
    source: 'unknown',
    text: 'nothing states it: give its height for the route, or for the program',
    rangeM: { low: Math.max(0, ruleM - design.belowLatitudeRuleM), high: ruleM },
  };
}

/** The treeline of a way that lies open from a stated height on: rock, burnt or grazed ground and moor know no trees. */
export function openFrom(treeline: Treeline, openAboveM: number | null): Treeline {
  if (openAboveM === null || openAboveM >= (treeline.treelineM ?? Number.POSITIVE_INFINITY)) return treeline;
  return {
    treelineM: openAboveM,
    source: 'route',
    text: 'open from there on, stated for the route',
    rangeM: { low: openAboveM, high: openAboveM },
  };
}
