import type { Declination } from '../earth/declination.ts';
import type { CardLeg, CardPlace, LegHazard, RouteCard } from '../plan/route-card.ts';
import type { LineWay, StatedWay, WayToRoad } from '../plan/way-to-road.ts';
import { SUSTAINED_M } from '../route/steepness.ts';
import { decimalDegreesText } from '../text/coordinate-text.ts';
import { bearingText, placeText } from '../text/place-words.ts';
import { climbText, durationText, heightText, lengthText, percentText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { type PageSection, section } from './people-page.ts';

/** Declination as it is said: `9.3° west`. */
function declinationText({ declinationDeg, doubtDeg }: Declination): string {
  const rounded = Math.abs(declinationDeg).toFixed(1);
  const side = rounded === '0.0' ? '' : declinationDeg < 0 ? ' west' : ' east';
  return `${rounded}°${side}, give or take ${doubtDeg.toFixed(1)}°`;
}

function compassCaution(found: Declination | null): string {
  if (found === null) {
    return 'Magnetic bearings are not given: no model of the field holds on this date. Take the declination from the map.';
  }
  const text = `Declination ${declinationText(found)} (${found.model}, to ${found.lastValidDate}).`;
  switch (found.compass) {
    case 'useless':
      return `${text} A compass is of no use here: no magnetic bearings are given.`;
    case 'caution':
      return `${text} A compass may be wrong here.`;
    case 'good':
      return `${text} Magnetic bearings have it counted in already.`;
  }
}

/** What stands at the head of the card. */
export const cardCautions = ({ legs, declination, rockClass, hasGaps }: RouteCard): string[] =>
  [
    'Bearings are straight lines between places, not ways to walk: cliffs and water may lie between.',
    legs.some(({ isWinding }) => isWinding) ? 'Where the way winds: follow the path, not the bearing.' : null,
    compassCaution(declination),
    classNote(rockClass),
    hasGaps ? 'The line has gaps: the route is longer, and climbs more, than this card says.' : null,
  ].filter((text) => text !== null);

const SURFACES = { rough: 'rough ground', talus: 'talus', snow: 'snow' } as const;

/** One hazard in a few words: `above treeline for 1.2 km`. */
export function hazardText(hazard: LegHazard, units: UnitSystem): string {
  switch (hazard.kind) {
    case 'gap':
      return 'the line has a gap: the way is longer than shown, look at the map';
    case 'heightsMissing':
      return 'heights missing: look at the map';
    case 'aboveTreeline':
      return `above treeline for ${lengthText(hazard.lengthM, units)}`;
    case 'maybeAboveTreeline':
      return `perhaps above treeline for ${lengthText(hazard.lengthM, units)}`;
    case 'steep':
      return `steep ${hazard.ratio < 0 ? 'down' : 'up'}: ${percentText(Math.abs(hazard.ratio))} over ${climbText(SUSTAINED_M, units)}`;
    case 'surface':
      return hazard.isStated
        ? SURFACES[hazard.surface]
        : `counted as ${SURFACES[hazard.surface]} (not stated)`;
    case 'slideGround':
      return `ground where snow slides, on, beside or above the way, for ${lengthText(hazard.lengthM, units)}, up to ${Math.round(hazard.steepestDeg)}°`;
    case 'summitBlock':
      return `the last piece to the top is class ${hazard.rockClass}`;
  }
}

/** What the class of the route says, once for the whole card; `null` for class 1, which asks for no hands. */
export function classNote(rockClass: string | null): string | null {
  if (rockClass === null) return 'The class of the rock is not stated.';
  const walk = rockClass.split('s')[0] ?? rockClass;
  return walk === '1' || walk === '1-' ? null : `Class ${walk} somewhere on the route: where is not known.`;
}

const DIRECTION = { back: 'back the way you came', onward: 'onward to the end' } as const;

function statedText({ name, notes, distanceM, trueDeg }: StatedWay, units: UnitSystem): string {
  const where =
    trueDeg === null
      ? 'begins here'
      : `begins ${lengthText(distanceM, units)} from here in a straight line, over ground that nobody has checked`;
  return `the way out${name === '' ? '' : ` “${name}”`} ${where}${notes === '' ? '' : ` (${notes})`}`;
}

function lineText(
  { direction, distanceM, climbM, overHighPoint, hasGap }: LineWay,
  units: UnitSystem,
): string {
  if (distanceM < 1) return 'here';
  const parts = [
    DIRECTION[direction],
    `${lengthText(distanceM, units)}${hasGap ? ' and a gap in the line' : ''}`,
    ...(climbM === null ? ['climb not known'] : climbM >= 10 ? [`${climbText(climbM, units)} up`] : []),
    ...(overHighPoint ? ['over the highest point'] : []),
  ];
  return parts.join(', ');
}

/** Both ways in words. The way along the line comes first: how long it is, is known. */
export function wayToRoadText({ stated, line }: WayToRoad, units: UnitSystem): string {
  const along = lineText(line, units);
  return stated === null || along === 'here' ? along : `${along}; or ${statedText(stated, units)}`;
}

/** The same in few words, for a table that has the distance along the line in a column of its own. */
export function wayInShort({ stated, line }: WayToRoad, units: UnitSystem): string {
  const along = `${DIRECTION[line.direction]}${line.overHighPoint ? ', over the highest point' : ''}${line.hasGap ? ', a gap in the line' : ''}`;
  if (stated === null) return along;
  const name = stated.name === '' ? 'the stated way out' : `“${stated.name}”`;
  const where =
    stated.trueDeg === null
      ? 'begins here'
      : `begins ${lengthText(stated.distanceM, units)} off, ground not checked`;
  return `${along}; or ${name} ${where}`;
}

const NOT_KNOWN = '–';

function rowOf(leg: CardLeg, units: UnitSystem): string[] {
  const { from, to, trueDeg, magneticDeg, straightM, alongM, climbM, dropM, minutes } = leg;
  const bearing = (deg: number | null): string => (deg === null ? NOT_KNOWN : bearingText(deg));
  const climb = (metres: number | null): string => (metres === null ? NOT_KNOWN : climbText(metres, units));
  return [
    placeText(from, units),
    placeText(to, units),
    bearing(trueDeg),
    bearing(magneticDeg),
    lengthText(straightM, units),
    lengthText(alongM, units),
    climb(climbM),
    climb(dropM),
    minutes === null ? NOT_KNOWN : durationText(minutes.p50),
    minutes === null ? NOT_KNOWN : durationText(minutes.p90),
    [
      ...(leg.isWinding ? ['winds: follow the path, not the bearing'] : []),
      ...leg.hazards.map((hazard) => hazardText(hazard, units)),
    ].join('; '),
  ];
}

function placeRow(place: CardPlace, units: UnitSystem): string[] {
  return [
    placeText(place, units),
    place.elevationM === null ? NOT_KNOWN : heightText(place.elevationM, units),
    place.grid?.text ?? NOT_KNOWN,
    decimalDegreesText(place),
    wayToRoadText(place.wayOut, units),
  ];
}

/** The route card as two sections of a page: the legs, and the places with their references and ways out. */
export function routeCardSections(card: RouteCard, units: UnitSystem): PageSection[] {
  const { legs } = card;
  const first = legs[0]?.from;
  const places = first === undefined ? [] : [first, ...legs.map(({ to }) => to)];
  return [
    section('Route card: legs', {
      lines: cardCautions(card),
      table: {
        columns: [
          ...['From', 'To', 'True', 'Magnetic', 'Straight', 'Along', 'Up', 'Down'],
          ...['Usual time', 'Slow time', 'Watch for'],
        ],
        rows: legs.map((leg) => rowOf(leg, units)),
      },
    }),
    section('Route card: places', {
      lines: [
        'WGS 84. Where a way out begins is no word on the ground before it, or on how far it is from there to a road.',
      ],
      table: {
        columns: ['Place', 'Height', 'Grid', 'Degrees', 'Way out'],
        rows: places.map((place) => placeRow(place, units)),
      },
    }),
  ];
}
