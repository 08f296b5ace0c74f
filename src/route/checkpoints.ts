import type { Design } from '../design.ts';
import { azimuthDeg, type Place } from '../earth/geodesic.ts';
import type { Waypoint } from '../ingest/track.ts';
import type { Route } from './describe-route.ts';
import { elevationAt, type LinePoints, linePointsOf, passesOf, placeAt } from './place-at.ts';

/** The five that every route has, as far as they apply to it. */
export type MainKind = 'trailhead' | 'treelineUp' | 'high' | 'treelineDown' | 'end';
/** `waypoint`: named in the file; `bend`, `shoulder`, `onTheWay`: chosen from the line and the ground. */
export type CheckpointKind = MainKind | 'waypoint' | 'bend' | 'shoulder' | 'onTheWay';

/** A place along a route at which a leader looks at the watch. Metres; `null` is "not known". */
export interface RoutePlace extends Place {
  readonly kind: CheckpointKind;
  /** As in the file; empty where it has none: words come from kind and height. */
  readonly name: string;
  readonly distanceM: number;
  readonly elevationM: number | null;
  /** Up to and at the high point. */
  readonly goingUp: boolean;
  readonly aboveTreeline: boolean | null;
}

export interface MainPlace {
  readonly kind: MainKind;
  readonly distanceM: number;
  readonly elevationM: number | null;
}

/** Trailhead, treeline going up, high point, below treeline for good, end: what ranking looks at. */
export function mainPlacesOf(route: Route): MainPlace[] {
  const { pieces, high, measures, treeline } = route;
  const above = pieces.filter((piece) => piece.aboveTreeline === true);
  const first = above[0];
  const last = above.at(-1);
  const length = measures.distanceM;
  const endsAbove = last !== undefined && last.toM >= (pieces.at(-1)?.toM ?? length);
  const places: MainPlace[] = [{ kind: 'trailhead', distanceM: 0, elevationM: route.trailhead.elevationM }];
  if (first !== undefined) {
    places.push({ kind: 'treelineUp', distanceM: first.fromM, elevationM: treeline.treelineM });
  }
  if (high !== null) places.push({ kind: 'high', distanceM: high.distanceM, elevationM: high.elevationM });
  if (last !== undefined) {
    places.push({
      kind: 'treelineDown',
      distanceM: endsAbove ? length : last.toM,
      elevationM: endsAbove ? route.end.elevationM : treeline.treelineM,
    });
  }
  places.push({ kind: 'end', distanceM: length, elevationM: route.end.elevationM });
  return places;
}

type Settings = Design['checkpoints'];

interface Candidate {
  readonly kind: CheckpointKind;
  readonly name: string;
  readonly distanceM: number;
  /** How much it stands out: the better is chosen first. */
  readonly strength: number;
}

/** Where the line passes the places given, both ways on an out and back. */
function passed(places: readonly Waypoint[], line: LinePoints, settings: Settings): Candidate[] {
  return places.flatMap((place, i) =>
    passesOf(line, place, settings.snapM, settings.apartM).map(({ atM, offM }) => ({
      kind: 'waypoint' as const,
      name: place.name?.trim() || `Waypoint ${i + 1}`,
      distanceM: atM,
      strength: -offM,
    })),
  );
}

/** Smallest angle between two bearings, degrees. */
const between = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);

/** Bends that stand alone, and places where a climb eases or a descent steepens, between two distances. */
function chosenFrom(
  route: Route,
  line: LinePoints,
  fromM: number,
  toM: number,
  settings: Settings,
): Candidate[] {
  const { reachM, stepM } = settings;
  const found: Candidate[] = [];
  const bends: Candidate[] = [];
  for (let atM = fromM + reachM; atM <= toM - reachM; atM += stepM) {
    const here = placeAt(line, atM);
    const turnedDeg = between(
      azimuthDeg(placeAt(line, atM - reachM), here),
      azimuthDeg(here, placeAt(line, atM + reachM)),
    );
    if (turnedDeg >= settings.bendDeg) {
      const last = bends.at(-1);
      const bend = { kind: 'bend' as const, name: '', distanceM: atM, strength: turnedDeg / 90 };
      if (last === undefined || atM - last.distanceM > reachM) bends.push(bend);
      else if (turnedDeg / 90 > last.strength) bends[bends.length - 1] = bend;
    }
    const before = elevationAt(route.profile, atM - 2 * reachM);
    const height = elevationAt(route.profile, atM);
    const after = elevationAt(route.profile, atM + 2 * reachM);
    if (before === null || height === null || after === null) continue;
    const rise = (height - before) / (2 * reachM);
    const next = (after - height) / (2 * reachM);
    const [steep, easy] = Math.abs(rise) >= Math.abs(next) ? [rise, next] : [next, rise];
    if (Math.abs(steep) < settings.steepRatio || Math.abs(easy) > Math.abs(steep) / 3) continue;
    found.push({ kind: 'shoulder', name: '', distanceM: atM, strength: Math.abs(steep - easy) * 4 });
  }
  // A row of bends is a path that winds, not a place to know again.
  const alone = bends.filter(
    (bend) =>
      !bends.some((other) => other !== bend && Math.abs(other.distanceM - bend.distanceM) < settings.seriesM),
  );
  return [...found, ...alone];
}

/** Even parts of a way on which nothing stands out. */
function evenParts(fromM: number, toM: number, settings: Settings): Candidate[] {
  const parts = Math.min(3, Math.floor((toM - fromM) / settings.longWayM) + 1);
  return Array.from({ length: parts - 1 }, (_, i) => ({
    kind: 'onTheWay' as const,
    name: '',
    distanceM: fromM + ((toM - fromM) * (i + 1)) / parts,
    strength: 0,
  }));
}

const isFree = (atM: number, taken: readonly { readonly distanceM: number }[], apartM: number): boolean =>
  taken.every(({ distanceM }) => Math.abs(distanceM - atM) >= apartM);

/** The strongest candidates that lie far enough from each other and from what is taken. */
function strongest(
  candidates: readonly Candidate[],
  taken: readonly { readonly distanceM: number }[],
  most: number,
  apartM: number,
): Candidate[] {
  const chosen: Candidate[] = [];
  const byStrength = [...candidates].sort((a, b) => b.strength - a.strength || a.distanceM - b.distanceM);
  for (const candidate of byStrength) {
    if (chosen.length >= most) break;
    if (isFree(candidate.distanceM, [...taken, ...chosen], apartM)) chosen.push(candidate);
  }
  return chosen;
}

/**
 * The checkpoints of a route in the order they are walked: the main ones, the file's own places, and, where the file
 * names fewer than two on the way up, places chosen from the line: bends, shoulders, else even parts of a long way.
 * On an out and back what was chosen going up is met again going down.
 */
export function checkpointsOf(route: Route, settings: Settings): RoutePlace[] {
  const line = linePointsOf(route);
  const lengthM = route.measures.distanceM;
  const main = mainPlacesOf(route);
  const highM = route.high?.distanceM ?? lengthM;
  const marks = passed(route.waypoints, line, settings);
  const water = passed(
    (route.attributes.waterPoints ?? []).map(({ name, lat, lon }) => ({
      name: name ?? 'water',
      latDeg: lat,
      lonDeg: lon,
    })),
    line,
    settings,
  );

  // A name in the file for the start, the top or the end is theirs.
  const nameAt = (atM: number): string =>
    marks.find(
      ({ name, distanceM }) =>
        !name.startsWith('Waypoint ') && Math.abs(distanceM - atM) <= settings.ownNameM,
    )?.name ?? '';
  const startName = route.attributes.trailhead?.name ?? nameAt(0);
  const named: Candidate[] = [];
  for (const place of [...marks, ...water].sort((a, b) => a.distanceM - b.distanceM)) {
    if (isFree(place.distanceM, [...main, ...named], settings.apartM)) named.push(place);
  }

  const chosen: Candidate[] = [];
  const choose = (fromM: number, toM: number, most: number): void => {
    const taken = [...main, ...named, ...chosen];
    const found = chosenFrom(route, line, fromM, toM, settings);
    const best = strongest(found, taken, most, settings.chosenApartM);
    const isBare = !taken.some(({ distanceM }) => distanceM > fromM && distanceM < toM);
    const rest = best.length > 0 || !isBare ? best : evenParts(fromM, toM, settings);
    chosen.push(...rest.filter(({ distanceM }) => isFree(distanceM, taken, settings.apartM)));
  };
  if (named.filter(({ distanceM }) => distanceM < highM).length < 2) choose(0, highM, settings.most);
  if (route.measures.shape === 'outAndBack') {
    for (const place of [...chosen]) {
      const back = passesOf(line, placeAt(line, place.distanceM), settings.snapM, settings.apartM)
        .filter(({ atM }) => atM > highM)
        .sort((a, b) => a.offM - b.offM)[0];
      if (back !== undefined && isFree(back.atM, [...main, ...named, ...chosen], settings.apartM)) {
        chosen.push({ ...place, distanceM: back.atM });
      }
    }
  } else if (named.filter(({ distanceM }) => distanceM > highM).length < 2) {
    choose(highM, lengthM, Math.ceil(settings.most / 2));
  }

  const sideAt = (atM: number): boolean | null =>
    route.pieces.find(({ fromM, toM }) => atM >= fromM && atM <= toM)?.aboveTreeline ?? null;
  const others = [...named, ...chosen].map(({ kind, name, distanceM }) => ({
    kind,
    name,
    distanceM,
    elevationM: elevationAt(route.profile, distanceM),
  }));
  const order = (kind: CheckpointKind): number => main.findIndex((place) => place.kind === kind);
  return [
    ...main.map((place) => ({
      ...place,
      name:
        place.kind === 'treelineUp' || place.kind === 'treelineDown'
          ? ''
          : place.kind === 'trailhead' || (place.kind === 'end' && route.measures.shape !== 'oneWay')
            ? startName
            : nameAt(place.distanceM),
    })),
    ...others,
  ]
    .sort((a, b) => a.distanceM - b.distanceM || order(a.kind) - order(b.kind))
    .map((place) => ({
      ...place,
      ...placeAt(line, place.distanceM),
      goingUp: place.distanceM <= highM,
      aboveTreeline: sideAt(place.distanceM),
    }));
}
