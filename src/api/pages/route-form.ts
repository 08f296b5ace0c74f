/** The attributes of a route as the fields of its form, and back. */
import type { RouteAttributes } from '../../ingest/attributes.ts';
import type { UnitSystem } from '../../units.ts';
import type { FormValues } from '../../web/field.tsx';
import { SPARE_ROWS } from '../../web/pages/route-form.tsx';
import { heightUnit, numberOf, readIn, roadUnit, shownIn, textOf } from './form-values.ts';

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

/** The field of a JSON Pointer into attributes. */
export function routeField(pointer: string): string | null {
  const [, index, part] = /^\/closures\/(\d+)\/(from|to|reason)$/.exec(pointer) ?? [];
  if (index === undefined || part === undefined) return FIELDS[pointer] ?? null;
  return `closure${Number(index) + 1}${part.charAt(0).toUpperCase()}${part.slice(1)}`;
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
  const rows = Array.from({ length: (stored.closures?.length ?? 0) + SPARE_ROWS }, (_, i) => i + 1);
  const closures = rows
    .map((n) => ({
      from: text(`closure${n}From`),
      to: text(`closure${n}To`),
      reason: text(`closure${n}Reason`),
    }))
    .filter((row) => orNull(row) !== null);
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
