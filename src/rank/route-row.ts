import { CLEARANCES } from '../approach/vehicles.ts';
import { aerobicFraction } from '../capability/altitude.ts';
import { plainQuantities, surfacesOf, totalQuantities } from '../capability/quantities.ts';
import { rockOn } from '../capability/rock.ts';
import { climbDoubtOf } from '../day/walking.ts';
import type { Design } from '../design.ts';
import { yearAt } from '../earth/climate.ts';
import { rockClassOrder } from '../ingest/rock-class.ts';
import { mainPlacesOf } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { OPEN_GROUND, openGroundOf } from '../route/open-ground.ts';
import { classInDoubt } from '../route/steep-ground.ts';
import { zoneFor } from '../route/zone-for.ts';
import { isClosedRoad, isOpenRoad, needsSecondVehicle } from './road.ts';

/** The numbers of a route that ranking looks at, whatever the cohort, in the order in which they are stored. */
export const ROW_COLUMNS = [
  // The line and its heights; yes is 1, no is 0.
  'distanceM',
  'hasGap',
  'heightsMissing',
  'gainM',
  'gainLowM',
  'gainHighM',
  'highM',
  'lowM',
  // The year near the sea at its latitude, °C.
  'seaMeanC',
  'seaSwingK',
  'isOneWay',
  // Its four quantities, nothing added: for the work of the day.
  'upKm',
  'upM',
  'downKm',
  'downM',
  // The walk until it leaves the ground above treeline for good, and all of it: trail-equivalent, altitude aside.
  // Climbs are by piece, beside these; `isFed`: the meal at the top comes before.
  'isTreelineKnown',
  'hasExit',
  'endsAbove',
  'exitDownKm',
  'exitDownM',
  'exitClimbM',
  'exitGroundDoubt',
  'exitRockM',
  'exitIsFed',
  'endDownKm',
  'endDownM',
  'endClimbM',
  'endGroundDoubt',
  'endRockM',
  'endIsFed',
  'climbDoubt',
  // Its trailhead, and what is stated. `clearance`: place in `CLEARANCES`; `isRoadAsked`: the road is not plainly open.
  // `needsSecondVehicle`: it ends elsewhere, and no pick-up is stated.
  'lonDeg',
  'latDeg',
  'trailheadM',
  'roadKm',
  'roadMin',
  'clearance',
  'isRoadClosed',
  'isRoadAsked',
  'needsSecondVehicle',
  'partyLimit',
  'rockClassOrder',
  // `classAsked`: the class that so steep a line may be, where that is not what is stated.
  'classAsked',
  'isSnow',
  'hasSlideGround',
  // Open ground below treeline: a place in `OPEN_GROUND`.
  'openGround',
] as const;

export type RowColumn = (typeof ROW_COLUMNS)[number];

/** Numbers of a climbing piece: share of sea-level aerobic capacity there, then trail-equivalent kilometres and metres. */
export const CLIMB_NUMBERS = 3;

/** What ranking needs of a route, as it is stored: plain JSON. `null` is "not known" or "not stated". */
export interface RouteRow {
  readonly name: string;
  /** IANA zone whose clock counts. */
  readonly zone: string;
  /** In the order of `ROW_COLUMNS`. */
  readonly numbers: readonly (number | null)[];
  /** The climbing pieces in order, `CLIMB_NUMBERS` each, and how many of them come before the exit. */
  readonly climbs: readonly number[];
  readonly climbsToExit: number;
  readonly season: readonly [from: string, to: string] | null;
  readonly closures: readonly (readonly [from: string, to: string])[];
}

/** Whether nothing but the treeline is wanting to tell what lies above it. */
export const hasOpenTreeline = ({ numbers }: Pick<RouteRow, 'numbers'>): boolean =>
  numbers[ROW_COLUMNS.indexOf('isTreelineKnown')] === 0 &&
  numbers[ROW_COLUMNS.indexOf('heightsMissing')] === 0;

const yes = (is: boolean): number => (is ? 1 : 0);

/** The walk as ranking times it: up to the exit, and to its end. */
function walkedRow(route: Route, design: Design) {
  const surfaces = design.pace.surface;
  const rockBetween = rockOn(route, design);
  const surfaceOf = surfacesOf(route.attributes);
  const places = mainPlacesOf(route);
  const atM = (kind: string) => places.find((place) => place.kind === kind)?.distanceM ?? null;
  const exitM = atM('treelineDown');
  const highM = route.high?.distanceM ?? 0;
  const endM = route.measures.distanceM;
  const climbs: number[] = [];
  let climbsToExit = 0;
  const sums = [exitM ?? 0, endM].map((toM) => {
    let [downKm, downM, climbM, lengthM, doubtM] = [0, 0, 0, 0, 0];
    for (const piece of route.pieces) {
      // A checkpoint stands at the end of a piece: none is cut.
      if (piece.fromM >= toM) break;
      const surface = surfaces[surfaceOf(piece)];
      const plain = plainQuantities(piece);
      downKm += plain.downKm * surface.time;
      downM += plain.downM * surface.time;
      climbM += piece.climbM;
      lengthM += piece.horizontalM;
      doubtM += surface.doubt * piece.horizontalM;
    }
    return { downKm, downM, climbM, groundDoubt: lengthM > 0 ? doubtM / lengthM : 0 };
  });
  for (const piece of route.pieces) {
    if (piece.descending) continue;
    const { time } = surfaces[surfaceOf(piece)];
    const plain = plainQuantities(piece);
    climbs.push(aerobicFraction(piece.elevationM), plain.upKm * time, plain.upM * time);
    if (exitM !== null && piece.fromM < exitM) climbsToExit += 1;
  }
  const [exit, end] = sums;
  return {
    numbers: {
      hasExit: yes(exitM !== null),
      endsAbove: yes(exitM !== null && exitM >= endM),
      exitDownKm: exit?.downKm ?? 0,
      exitDownM: exit?.downM ?? 0,
      exitClimbM: exit?.climbM ?? 0,
      exitGroundDoubt: exit?.groundDoubt ?? 0,
      exitRockM: rockBetween(0, exitM ?? 0),
      exitIsFed: yes(exitM !== null && exitM > highM),
      endDownKm: end?.downKm ?? 0,
      endDownM: end?.downM ?? 0,
      endClimbM: end?.climbM ?? 0,
      endGroundDoubt: end?.groundDoubt ?? 0,
      endRockM: rockBetween(0, endM),
      endIsFed: yes(endM > highM),
      climbDoubt: climbDoubtOf(route),
    },
    climbs,
    climbsToExit,
  };
}

/** The row of a route. Made anew whenever the route, the methods or the settings change. */
export function rowOf(route: Route, design: Design): RouteRow {
  const { measures, trailhead, attributes, heightsMissing } = route;
  const gain = heightsMissing ? null : measures.gainM;
  const total = totalQuantities(route.pieces);
  const walked = walkedRow(route, design);
  const head = attributes.trailhead ?? null;
  const status = head?.roadStatus ?? null;
  const rockClass = attributes.rockClass ?? null;
  const year = yearAt(trailhead.latDeg);
  const { steepGround } = measures;
  const byName: Record<RowColumn, number | null> = {
    distanceM: measures.distanceM,
    hasGap: yes(route.notes.some(({ code }) => code === 'gap')),
    heightsMissing: yes(heightsMissing),
    gainM: gain?.value ?? null,
    gainLowM: gain?.low ?? null,
    gainHighM: gain?.high ?? null,
    highM: measures.highM,
    lowM: measures.lowM,
    seaMeanC: year.meanC,
    seaSwingK: year.swingK,
    isOneWay: yes(measures.shape === 'oneWay'),
    upKm: total.upKm,
    upM: total.upM,
    downKm: total.downKm,
    downM: total.downM,
    isTreelineKnown: yes(measures.aboveTreelineM !== null),
    ...walked.numbers,
    lonDeg: trailhead.lonDeg,
    latDeg: trailhead.latDeg,
    trailheadM: trailhead.elevationM,
    roadKm: head?.roadKm ?? null,
    roadMin: head?.roadMin ?? null,
    clearance: head?.roadClearance == null ? null : CLEARANCES.indexOf(head.roadClearance),
    isRoadClosed: yes(isClosedRoad(status)),
    isRoadAsked: yes(status !== null && !isOpenRoad(status)),
    needsSecondVehicle: yes(needsSecondVehicle(route)),
    partyLimit: attributes.groupSizeLimit ?? null,
    rockClassOrder: rockClass === null ? null : rockClassOrder(rockClass),
    classAsked: classInDoubt(route, design),
    isSnow: yes(attributes.surface === 'snow'),
    // Not known may be steep.
    hasSlideGround: yes(steepGround == null || steepGround.stretches.length > 0),
    openGround: OPEN_GROUND.indexOf(openGroundOf(route, design.openGround)),
  };
  const { season, closures } = attributes;
  return {
    name: route.name,
    zone: zoneFor(route, design),
    numbers: ROW_COLUMNS.map((column) => byName[column]),
    climbs: walked.climbs,
    climbsToExit: walked.climbsToExit,
    season: season == null ? null : [season.from, season.to],
    closures: (closures ?? []).map(({ from, to }) => [from, to]),
  };
}
