/** The attributes of a route as the fields of its form, and back. */

import type { RouteAttributes } from '../../ingest/attributes.ts';
import type { UnitSystem } from '../../units.ts';
import type { FormRules } from '../fault.ts';
import type { FormValues } from '../field.tsx';
import { type FieldUnit, heightUnit, numberOf, readIn, roadUnit, shownIn, textOf } from '../form-values.ts';
import { SPARE_ROWS } from './view.tsx';

const FIELDS: Readonly<Record<string, string>> = {
  '/name': 'name',
  '/rockClass': 'rockClass',
  '/surface': 'surface',
  '/treelineM': 'treeline',
  '/trailhead/name': 'trailhead',
  '/trailhead/roadClearance': 'roadClearance',
  '/trailhead/roadKm': 'road',
  '/trailhead/roadMin': 'roadMin',
  '/trailhead/roadStatus': 'roadStatus',
  '/trailhead/parkingSpaces': 'parkingSpaces',
  '/pickUp': 'pickUp',
  '/groupSizeLimit': 'groupSizeLimit',
  '/permit/who': 'permitWho',
  '/permit/partiesPerDay': 'partiesPerDay',
  '/season': 'seasonFrom',
  '/season/from': 'seasonFrom',
  '/season/to': 'seasonTo',
  '/notes': 'notes',
};

const PARTS: Readonly<Record<string, string>> = { from: 'From', to: 'To', reason: 'Reason' };

/** The rows of closures in which something is written. */
const closureRows = (form: URLSearchParams, stored: RouteAttributes): readonly number[] =>
  Array.from({ length: (stored.closures?.length ?? 0) + SPARE_ROWS }, (_, i) => i + 1).filter((n) =>
    Object.values(PARTS).some((part) => textOf(form, `closure${n}${part}`) !== null),
  );

/** The rules of a route's form. */
export function routeRules(stored: RouteAttributes, units: UnitSystem): FormRules {
  const unitsOf: Readonly<Record<string, FieldUnit>> = { treeline: heightUnit(units), road: roadUnit(units) };
  return {
    fieldsOf: (form) => (pointer) => {
      const [, index, part = ''] = /^\/closures\/(\d+)(?:\/(\w+))?$/.exec(pointer) ?? [];
      if (index === undefined) return [FIELDS[pointer] ?? []].flat();
      const row = closureRows(form, stored)[Number(index)];
      // Of a row as a whole: its days do not go together.
      return row === undefined ? [] : [`closure${row}${PARTS[part] ?? 'To'}`];
    },
    unitOf: (field) => unitsOf[field] ?? null,
  };
}

export function routeValues(attributes: RouteAttributes, units: UnitSystem): FormValues {
  const { trailhead, permit, season, closures } = attributes;
  const text = (value: string | number | null | undefined) => (value == null ? '' : String(value));
  return {
    name: text(attributes.name),
    rockClass: text(attributes.rockClass),
    surface: text(attributes.surface),
    treeline: shownIn(heightUnit(units), attributes.treelineM),
    trailhead: text(trailhead?.name),
    roadClearance: text(trailhead?.roadClearance),
    road: shownIn(roadUnit(units), trailhead?.roadKm),
    roadMin: text(trailhead?.roadMin),
    roadStatus: text(trailhead?.roadStatus),
    parkingSpaces: text(trailhead?.parkingSpaces),
    pickUp: text(attributes.pickUp),
    groupSizeLimit: text(attributes.groupSizeLimit),
    permitWho: text(permit?.who),
    partiesPerDay: text(permit?.partiesPerDay),
    seasonFrom: text(season?.from),
    seasonTo: text(season?.to),
    notes: text(attributes.notes),
    ...Object.fromEntries(
      (closures ?? []).flatMap(({ from, to, reason }, i) => [
        [`closure${i + 1}From`, from],
        [`closure${i + 1}To`, to],
        [`closure${i + 1}Reason`, text(reason)],
      ]),
    ),
  };
}

/** An object, or `null` where none of its fields says anything. */
function orNull<T extends object>(fields: T): T | null {
  return Object.values(fields).every((value) => value === null) ? null : fields;
}

/** The merge patch that a form asks for. What the form does not show stays as it is. */
export function routePatch(form: URLSearchParams, stored: RouteAttributes, units: UnitSystem): unknown {
  const text = (name: string) => textOf(form, name);
  const closures = closureRows(form, stored).map((n) => ({
    from: text(`closure${n}From`),
    to: text(`closure${n}To`),
    reason: text(`closure${n}Reason`),
  }));
  return {
    name: text('name'),
    rockClass: text('rockClass'),
    surface: text('surface'),
    treelineM: readIn(heightUnit(units), form, 'treeline', stored.treelineM),
    trailhead: orNull({
      name: text('trailhead'),
      roadClearance: text('roadClearance'),
      roadKm: readIn(roadUnit(units), form, 'road', stored.trailhead?.roadKm),
      roadMin: numberOf(form, 'roadMin'),
      roadStatus: text('roadStatus'),
      parkingSpaces: numberOf(form, 'parkingSpaces'),
    }),
    pickUp: text('pickUp'),
    groupSizeLimit: numberOf(form, 'groupSizeLimit'),
    permit: orNull({ who: text('permitWho'), partiesPerDay: numberOf(form, 'partiesPerDay') }),
    season: orNull({ from: text('seasonFrom'), to: text('seasonTo') }),
    closures: closures.length === 0 ? null : closures,
    notes: text('notes'),
  };
}
