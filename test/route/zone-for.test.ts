import { expect, it } from 'vitest';
import { DESIGN, withChanges } from '../../src/design.ts';
import { checkRouteAttributes } from '../../src/ingest/route-attributes.ts';
import { zoneFor } from '../../src/route/zone-for.ts';

const trailhead = { lonDeg: -105, latDeg: 39.7, elevationM: null };
const program = withChanges({ day: { timeZone: 'America/Phoenix' } });

it('takes the zone of the route, else of the program, else of the place', () => {
  const attributes = checkRouteAttributes({ timeZone: 'America/Chicago' }, '');
  expect(zoneFor({ attributes, trailhead }, program)).toBe('America/Chicago');
  expect(zoneFor({ attributes: {}, trailhead }, program)).toBe('America/Phoenix');
  expect(zoneFor({ attributes: {}, trailhead }, DESIGN)).toBe('America/Denver');
});

it.each(['America/Denvr', '+02:00', ''])('refuses %j as a time zone', (timeZone) => {
  expect(() => checkRouteAttributes({ timeZone }, '')).toThrow(/time zone/);
  expect(() => withChanges({ day: { timeZone } })).toThrow();
});
