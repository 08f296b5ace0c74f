import { expect, it } from 'vitest';
import { DESIGN, withChanges } from '../../src/design.ts';
import { checkRouteAttributes } from '../../src/ingest/route-attributes.ts';
import { zoneBorder, zoneFor } from '../../src/route/zone-for.ts';

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

it('names both hours near a border where they differ on the date, unless the route states its own', () => {
  const hoover = { lonDeg: -114.74, latDeg: 36.01, elevationM: null };
  const winter = zoneBorder({ attributes: {}, trailhead: hoover }, '2026-01-15', DESIGN);
  expect([winter?.used.offset, winter?.beside.offset].sort()).toEqual(['-07:00', '-08:00']);
  expect(zoneBorder({ attributes: {}, trailhead: hoover }, '2026-07-11', DESIGN)).toBeNull();
  const attributes = { timeZone: 'America/Los_Angeles' };
  expect(zoneBorder({ attributes, trailhead: hoover }, '2026-01-15', DESIGN)).toBeNull();
  expect(zoneBorder({ attributes: {}, trailhead }, '2026-01-15', DESIGN)).toBeNull();
});
