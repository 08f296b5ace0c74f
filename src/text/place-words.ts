import type { CheckpointKind, RoutePlace } from '../route/checkpoints.ts';
import type { UnitSystem } from '../units.ts';
import { heightText } from './words.ts';

type Described = Pick<RoutePlace, 'kind' | 'name' | 'elevationM'>;

/** What a checkpoint is called where the file gives it no name; the height, where it is known, tells equals apart. */
const WORDS: Readonly<Record<CheckpointKind, (height: string | null) => string>> = {
  trailhead: () => 'trailhead',
  treelineUp: () => 'treeline, going up',
  high: () => 'highest point',
  treelineDown: () => 'treeline, below it again',
  end: () => 'end',
  waypoint: (height) => (height === null ? 'waypoint' : `waypoint at ${height}`),
  bend: (height) => (height === null ? 'bend' : `bend at ${height}`),
  shoulder: (height) => (height === null ? 'shoulder' : `shoulder, ${height}`),
  onTheWay: (height) => (height === null ? 'on the way' : `on the way, ${height}`),
};

/** The kind of a place in words, whatever its name: `shoulder, 1,240 m`. */
export function kindText({ kind, elevationM }: Described, units: UnitSystem): string {
  return WORDS[kind](elevationM === null ? null : heightText(elevationM, units));
}

/** What a place is called: its own name, else its kind and height. */
export function placeText(place: Described, units: UnitSystem): string {
  return place.name.trim() === '' ? kindText(place, units) : place.name;
}

/**
 * A bearing as it is read from a compass, whole degrees in three digits: `005°`.
 * @example bearingText(359.7) // '000°'
 */
export function bearingText(bearingDeg: number): string {
  return `${String(Math.round(bearingDeg) % 360).padStart(3, '0')}°`;
}
