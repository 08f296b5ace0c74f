import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planDay } from '../../src/day/day-plan.ts';
import { DESIGN } from '../../src/design.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import type { Route } from '../../src/route/describe-route.ts';
import { fitInput, type Given, judge, mountain, shownDay } from '../support/fit-input.ts';

const TRAIL: RouteAttributes = { rockClass: '1', surface: 'trail', treelineM: 1800 };

/** An even hill, laid at another latitude. */
function hillAt(latDeg: number, given: Parameters<typeof mountain>[0]): Route {
  const route = mountain(given);
  return { ...route, trailhead: { ...route.trailhead, latDeg } };
}

const walked = [shownDay(20_000, 2000)];
const answer = (name: Parameters<typeof judge>[0], given: Given) =>
  judge(name, fitInput({ outings: walked, ...given }));

describe('season', () => {
  const on = (date: string, latDeg: number, more: RouteAttributes = {}, baseM = 600) =>
    answer('season', { date, route: hillAt(latDeg, { baseM, attributes: { ...TRAIL, ...more } }) });

  it.each([
    ['2026-07-11', 44, 'fits'],
    ['2026-09-20', 44, 'fits'],
    ['2027-01-16', 44, 'incomplete'],
    ['2026-04-20', 44, 'incomplete'],
    ['2026-07-11', -44, 'incomplete'],
    ['2027-01-16', -44, 'fits'],
    ['2027-01-16', 25, 'fits'],
  ])('not stated, on %s at %i° with a top of 1,400 m: %s', (date, latDeg, verdict) => {
    expect(on(date, latDeg).verdict).toBe(verdict);
  });

  it('not stated is asked about where snow cannot lie, and says what to state where it may', () => {
    expect(on('2026-07-11', 44).toCheck).toBe('season not stated');
    expect(on('2027-01-16', 44).reason).toContain('state the season');
  });

  it('stated answers, in winter too', () => {
    expect(on('2027-01-16', 44, { season: { from: '01-01', to: '12-31' } }).verdict).toBe('fits');
  });

  it('lets snow lie longer the higher the top, by the date', () => {
    const asks = (date: string, baseM: number) => on(date, 46, {}, baseM).verdict === 'incomplete';
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 364 }), fc.integer({ min: 0, max: 3000 }), (day, baseM) => {
        const date = new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10);
        return !asks(date, baseM) || asks(date, baseM + 500);
      }),
      { numRuns: 30 },
    );
  });

  it('leaves snow on steep ground to the avalanche service, whatever season is stated', () => {
    const attributes = { ...TRAIL, surface: 'snow' as const, season: { from: '01-01', to: '12-31' } };
    const stretch = { fromM: 900, toM: 1200, onDeg: 34, besideDeg: 38, aboveDeg: null };
    const gentle = { stretches: [], fromDeg: 30, knownShare: 1 };
    const withGround = (steepGround: Route['measures']['steepGround']) => {
      const route = mountain({ attributes });
      return answer('season', { route: { ...route, measures: { ...route.measures, steepGround } } });
    };
    expect(withGround({ ...gentle, stretches: [stretch] })).toMatchObject({ verdict: 'incomplete' });
    expect(withGround({ ...gentle, stretches: [stretch] }).reason).toContain('38°');
    expect(withGround(null).verdict).toBe('incomplete');
    expect(withGround(gentle).verdict).toBe('fits');
  });
});

describe('the class and the steepness of the way', () => {
  const at = (line50Deg: number, more: RouteAttributes) => {
    const route = mountain({ attributes: { ...TRAIL, ...more } });
    const steepGround = { stretches: [], fromDeg: 30, knownShare: 1, line50Deg, line50AtM: 900 };
    return answer('rockClass', {
      cohort: { comfortClass: '3', class3Agreed: true },
      outings: [shownDay(20_000, 2000, { rockClass: '3' })],
      route: { ...route, measures: { ...route.measures, steepGround } },
    });
  };

  it.each([
    [34, '1', 'fits'],
    [36, '1', 'incomplete'],
    [36, '2', 'incomplete'],
    [36, '2+', 'incomplete'],
    [36, '3-', 'fits'],
    [51, '3', 'incomplete'],
  ])('of %i° over 50 m, stated as class %s: %s', (deg, rockClass, verdict) => {
    expect(at(deg, { rockClass }).verdict).toBe(verdict);
  });

  it('is answered by who says how much of it needs hands', () => {
    expect(at(45, { rockClass: '1', scrambleM: 0 }).verdict).toBe('fits');
    expect(at(45, { rockClass: '1' }).reason).toContain('45°');
  });
});

describe('ground on which hands are needed', () => {
  const outMin = (attributes: RouteAttributes, cohort: Partial<CohortInput> = {}) =>
    fitInput({ cohort, outings: walked, route: mountain({ attributes }) }).timeline?.dayMin.p50 ?? 0;
  const class3 = { ...TRAIL, rockClass: '3' };

  it('takes a party longer by its length and by the number of people', () => {
    const more = (scrambleM: number, participants: number) =>
      outMin({ ...class3, scrambleM }, { participants, leaders: 2 }) - outMin(TRAIL);
    // 600 m by 8 people: (0.03 + 7 × 0.005) min/m is 39 min of moving, and stops on top.
    expect(more(600, 6)).toBeGreaterThan(30);
    expect(more(600, 14)).toBeGreaterThan(more(600, 6));
    expect(more(1200, 6)).toBeGreaterThan(more(600, 6));
    expect(more(0, 6)).toBeCloseTo(0, 6);
  });

  it('is never the speed of a trail where only the class is stated', () => {
    expect(outMin(class3)).toBeGreaterThan(outMin(TRAIL) + 20);
  });
});

describe('open ground below treeline', () => {
  const at = (attributes: RouteAttributes, name = 'Even Hill') =>
    answer('stormWindow', {
      route: mountain({ name, baseM: 400, gainM: 600, attributes: { ...TRAIL, ...attributes } }),
    });

  it('is asked about on a top of which nothing is known', () => {
    expect(at({})).toMatchObject({ verdict: 'fits', toCheck: expect.stringContaining('the top') });
    expect(at({ openGround: 'none' }).toCheck).toBeUndefined();
  });

  it.each([
    ['a name', {}, 'Granite Dome'],
    ['a class', { rockClass: '3' }, 'Even Hill'],
    ['the surface', { surface: 'talus' as const }, 'Even Hill'],
    ['a statement without a height', { openGround: 'some' as const }, 'Even Hill'],
  ])('decides where %s makes it likely', (_, attributes, name) => {
    expect(at(attributes, name)).toMatchObject({ verdict: 'incomplete' });
    expect(at({ ...attributes, openGround: 'none' }, name).verdict).toBe('fits');
  });

  it('counts as open to storms from the height stated on', () => {
    const route = mountain({ baseM: 400, gainM: 600, attributes: { ...TRAIL, openAboveM: 700 } });
    const treeline = mountain({ baseM: 400, gainM: 600, attributes: { ...TRAIL, treelineM: 700 } });
    expect(route.measures.aboveTreelineM).toBe(treeline.measures.aboveTreelineM);
    expect(at({ openAboveM: 700 }).reason).toContain('open from there on');
    // Above the treeline it says nothing new.
    expect(mountain({ attributes: { ...TRAIL, openAboveM: 1900 } }).measures.treelineM).toBe(1800);
  });
});

describe('storms', () => {
  const above = { attributes: { ...TRAIL, treelineM: 1300 } };

  it('asks about a deadline of the program that is later than the usual one', () => {
    const at = (deadline: string | null) =>
      answer('stormWindow', { cohort: { deadline }, route: mountain(above) });
    expect(at('14:00').toCheck).toContain('later than the usual');
    expect(at('10:00').toCheck ?? null).toBeNull();
    expect(at(null).toCheck ?? null).toBeNull();
  });

  it('are not ruled by noon alone where the sun does not set, and say so', () => {
    const late = { cohort: { earliestStart: '10:00' } };
    expect(answer('stormWindow', { ...late, route: mountain(above) }).verdict).toBe('notYet');
    const arctic = answer('stormWindow', { ...late, date: '2026-06-21', route: hillAt(70, above) });
    expect(arctic).toMatchObject({ verdict: 'stretch' });
    expect(arctic.toCheck).toContain('middle latitudes');
  });
});

describe('heat', () => {
  const low = (latDeg: number, baseM = -400, lengthUpM = 3000) =>
    hillAt(latDeg, { baseM, gainM: 300, lengthUpM, attributes: TRAIL });

  it('is no question where or when it is not hot', () => {
    for (const [latDeg, date] of [
      [46, '2026-07-11'],
      [31, '2026-12-20'],
      [-31, '2026-07-11'],
    ] as const) {
      expect(answer('heat', { date, route: low(latDeg, 300) }).verdict).toBe('fits');
    }
  });

  it('starts at dawn in a hot country and season, and asks for the forecast', () => {
    const input = fitInput({ outings: walked, route: low(36, 400, 1000) });
    expect(input.timeline?.startMs).toBeLessThanOrEqual(input.timeline?.civilDawnMs ?? 0);
    expect(judge('heat', input)).toMatchObject({
      verdict: 'fits',
      toCheck: expect.stringContaining('no forecast'),
    });
  });

  it('tells the leader to turn round for the heat, not for the dark', () => {
    const { facts, route, timeline } = fitInput({ outings: walked, route: low(36, 400, 1000) });
    if (timeline === null) throw new RangeError('no timeline');
    const { places } = planDay(route, facts.readiness, timeline, facts.approach(0), DESIGN);
    const top = places.find(({ kind }) => kind === 'high');
    expect(top?.cutOffReason).not.toBe('daylight');
    expect(top?.cutOffMs).toBeLessThan(timeline.heatFromMs ?? 0);
  });

  it('is a stretch for a start in the day, and decides where it is hotter still', () => {
    const late = { cohort: { earliestStart: '08:00' } };
    expect(answer('heat', { ...late, route: low(36, 400) }).verdict).toBe('stretch');
    expect(answer('heat', { ...late, route: low(31) }).verdict).toBe('incomplete');
    expect(answer('heat', { route: low(31, -400, 1000) }).verdict).toBe('stretch');
  });
});

describe('the start', () => {
  it('of a day that is long when it is slow is earlier than the usual one, and never later for more of it', () => {
    const startMs = (lengthUpM: number) =>
      fitInput({ outings: walked, route: mountain({ lengthUpM, baseM: 300, attributes: TRAIL }) }).timeline
        ?.startMs ?? 0;
    expect(startMs(2000) - startMs(14_000)).toBeGreaterThan(15 * 60_000);
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 9000 }),
        fc.integer({ min: 0, max: 3000 }),
        (lengthUpM, more) => startMs(lengthUpM + more) <= startMs(lengthUpM),
      ),
      { numRuns: 15 },
    );
  });
});
