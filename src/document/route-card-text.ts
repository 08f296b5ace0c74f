import { hazardText } from '../plan/leg-hazards.ts';
import type { CardLeg, CardPlace, RouteCard } from '../plan/route-card.ts';
import { wayToRoadText } from '../plan/way-to-road.ts';
import { decimalDegreesText } from '../text/coordinate-text.ts';
import { bearingText, placeText } from '../text/place-words.ts';
import { climbText, durationText, heightText, lengthText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { type PageSection, section } from './people-page.ts';

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
export function routeCardSections({ legs, cautions }: RouteCard, units: UnitSystem): PageSection[] {
  const first = legs[0]?.from;
  const places = first === undefined ? [] : [first, ...legs.map(({ to }) => to)];
  return [
    section('Route card: legs', {
      lines: cautions,
      table: {
        columns: [
          'From',
          'To',
          'True',
          'Magnetic',
          'Straight',
          'Along',
          'Up',
          'Down',
          'Usual time',
          'Slow time',
          'Watch for',
        ],
        rows: legs.map((leg) => rowOf(leg, units)),
        marked: [],
      },
    }),
    section('Route card: places', {
      lines: [
        'WGS 84. Where a way out begins is no word on the ground before it, or on how far it is from there to a road.',
      ],
      table: {
        columns: ['Place', 'Height', 'Grid', 'Degrees', 'Way out'],
        rows: places.map((place) => placeRow(place, units)),
        marked: [],
      },
    }),
  ];
}
