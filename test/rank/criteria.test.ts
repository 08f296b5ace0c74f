import { describe, expect, it } from 'vitest';
import type { AgeBand } from '../../src/design.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import { CRITERIA } from '../../src/rank/criteria/index.ts';
import { dayNumber, withinSpan } from '../../src/rank/day-number.ts';
import { verdictRank } from '../../src/rank/verdict.ts';
import { seasonDayText } from '../../src/text/words.ts';
import { fitInput, type Given, judge, mountain, shownDay, TRIP } from '../support/fit-input.ts';

const trail = { rockClass: '2', treelineM: 1800, surface: 'trail' as const };
const at = (trailhead: object, more: object = {}): Given => ({
  route: mountain({ attributes: { ...trail, trailhead, ...more } }),
});

describe('the criteria', () => {
  it('are the fifteen of the contract, in its order', () => {
    expect(CRITERIA.map((criterion) => criterion.name)).toEqual([
      'distance',
      'gain',
      'effort',
      'rockClass',
      'altitude',
      'stormWindow',
      'daylight',
      'drive',
      'roadAccess',
      'partySize',
      'leaders',
      'season',
      'heat',
      'hours',
      'aim',
    ]);
  });
});

// The verdict table of the architecture: r = demand / capacity.
describe.each([
  ['minors', '15-17' as const, 1.1],
  ['adults', 'adult' as const, 1.25],
])('distance for %s', (_, ageBand, limit) => {
  const verdictAt = (ratio: number) => {
    const route = mountain();
    const input = fitInput({ route, cohort: { ageBand }, outings: [shownDay(8000 / ratio, 2000)] });
    return judge('distance', input).verdict;
  };

  it('fits up to what was shown, stretches to its limit, and is not yet beyond', () => {
    expect(verdictAt(0.9)).toBe('fits');
    expect(verdictAt(1)).toBe('fits');
    expect(verdictAt(1.001)).toBe('stretch');
    expect(verdictAt(limit - 0.001)).toBe('stretch');
    expect(verdictAt(limit + 0.001)).toBe('notYet');
  });
});

describe('distance', () => {
  it('is incomplete without outings and says to record one', () => {
    const judged = judge('distance', fitInput({ outings: [] }));
    expect(judged).toMatchObject({ verdict: 'incomplete', value: null, capacity: null });
    expect(judged.reason).toContain('record one');
  });

  it('does not name the member who has nothing', () => {
    const outings = [shownDay(12000, 1200, { members: ['fox7'] })];
    const judged = judge('distance', fitInput({ cohort: { members: ['fox7', 'owl3'] }, outings }));
    expect(judged.verdict).toBe('incomplete');
    expect(judged.reason).not.toMatch(/fox7|owl3/);
  });

  it('gives the headroom as capacity over demand less one', () => {
    expect(judge('distance', fitInput({ outings: [shownDay(10000, 1200)] })).headroom).toBeCloseTo(0.25, 9);
  });

  it('speaks in the reader’s units', () => {
    expect(judge('distance', fitInput({ units: 'us' })).reason).toContain('5.0 mi');
    expect(judge('distance', fitInput()).reason).toContain('8.0 km');
  });
});

describe('a line with a gap', () => {
  const whole = mountain();
  const gap = { code: 'gap', text: 'a gap of 65 m' };
  const route = { ...whole, heightsMissing: true, line: [...whole.line, ...whole.line], notes: [gap] };

  it('leaves open everything that depends on what lies in it', () => {
    const input = fitInput({ route });
    for (const name of ['distance', 'gain', 'effort', 'altitude', 'stormWindow', 'daylight'] as const) {
      expect(judge(name, input).verdict, name).toBe('incomplete');
    }
    expect(judge('gain', input).reason).toContain('gap');
    expect(input.timeline).toBeNull();
  });
});

describe('gain', () => {
  it('ranks on the upper end of the band', () => {
    const route = mountain();
    expect(judge('gain', fitInput({ route })).demand).toBe(route.measures.gainM?.high);
  });

  it('has a gap that is not one leap', () => {
    const judged = judge('gain', fitInput({ outings: [shownDay(12000, 300)] }));
    expect(judged.verdict).toBe('notYet');
    expect(judged.gap?.text).toContain('steps');
  });

  it('fits once the outing of its gap is added on the trip’s date, and not with 1 % less', () => {
    const before = [shownDay(12000, 500)];
    const need = Number(judge('gain', fitInput({ outings: before })).gap?.need.gainM);
    const after = (gainM: number) =>
      judge('gain', fitInput({ outings: [...before, shownDay(1000, gainM)] })).verdict;
    expect(after(need)).toBe('fits');
    expect(after(0.99 * need)).toBe('stretch');
  });
});

describe('effort', () => {
  it('fits once the day of its gap is added on the trip’s date, and not with 1 % less', () => {
    const before = [shownDay(5000, 300)];
    const need = judge('effort', fitInput({ outings: before })).gap?.need ?? {};
    const after = (share: number) =>
      judge(
        'effort',
        fitInput({
          outings: [...before, shownDay(share * Number(need.distanceM), share * Number(need.gainM))],
        }),
      ).verdict;
    expect(after(1)).toBe('fits');
    expect(after(0.99)).toBe('stretch');
  });
});

describe('rockClass', () => {
  const answer = (stated: string | null, cohort: object, walked: string | null) =>
    judge(
      'rockClass',
      fitInput({
        route: mountain({ attributes: { ...trail, rockClass: stated } }),
        cohort,
        outings: [shownDay(12000, 1200, { rockClass: walked })],
      }),
    );

  it('fits within comfort and walked before', () => {
    expect(answer('2', { comfortClass: '3' }, '2').verdict).toBe('fits');
  });

  it('stretches within comfort and not walked yet', () => {
    expect(answer('2+', { comfortClass: '3' }, '2').verdict).toBe('stretch');
  });

  it('is ruled out above comfort, even where it was walked', () => {
    expect(answer('3', { comfortClass: '2+' }, '3').verdict).toBe('ruledOut');
  });

  it('is incomplete where not stated, with the class that would fit', () => {
    const judged = answer(null, { comfortClass: '2' }, '2');
    expect(judged.verdict).toBe('incomplete');
    expect(judged.reason).toContain('would fit if its class is 2 or less');
  });

  it('tells grades within class 5 apart', () => {
    expect(answer('5.11d', { comfortClass: '5.2' }, '5.1').verdict).toBe('ruledOut');
    const adults = { ageBand: 'adult' } as const;
    expect(answer('5.10a', { ...adults, comfortClass: '5.10b' }, '5.9').verdict).toBe('stretch');
    expect(answer('5.4', { ...adults, comfortClass: '5.6' }, '5.4').verdict).toBe('fits');
  });

  // Common practice, no source.
  it.each([
    ['3-', 'adult', null, 'fits'],
    ['3-', '15-17', null, 'ruledOut'],
    ['3', '15-17', false, 'ruledOut'],
    ['3+', '15-17', true, 'fits'],
    ['4-', '15-17', true, 'ruledOut'],
    ['4', null, true, 'ruledOut'],
    ['4', 'adult', null, 'fits'],
  ] as const)(
    'of class %s for the age %s, agreed to: %s: %s',
    (rockClass, ageBand, class3Agreed, verdict) => {
      expect(answer(rockClass, { ageBand, class3Agreed, comfortClass: '4' }, '4').verdict).toBe(verdict);
    },
  );

  it('is incomplete without a comfort class', () => {
    expect(answer('2', { comfortClass: null }, '2').verdict).toBe('incomplete');
  });
});

describe('altitude', () => {
  // WMS 2024 (Luks et al.), sleeping elevation of the first day: < 2,800 m low, to 3,500 m moderate, above high
  it.each([
    [2500, 'none', 'fits'],
    [2900, 'none', 'stretch'],
    [3600, 'none', 'ruledOut'],
    [2000, 'severe', 'stretch'],
    [2000, 'hapeHace', 'ruledOut'],
  ] as const)('sleeping at %i m with history %s: %s', (sleepElevationM, altitudeHistory, verdict) => {
    const route = mountain({ baseM: 2000, attributes: trail });
    expect(judge('altitude', fitInput({ route, cohort: { sleepElevationM, altitudeHistory } })).verdict).toBe(
      verdict,
    );
  });

  it('counts an illness before only where the day goes above 2,500 m, and asks about it only there', () => {
    const history = (baseM: number, altitudeHistory: 'hapeHace' | null) =>
      judge(
        'altitude',
        fitInput({ route: mountain({ baseM, attributes: trail }), cohort: { altitudeHistory } }),
      );
    expect(history(1700, 'hapeHace').verdict).toBe('fits');
    expect(history(1701, 'hapeHace').verdict).toBe('ruledOut');
    expect(history(1700, null).toCheck).toBeUndefined();
    expect(history(1701, null).toCheck).toContain('history');
  });

  it('holds a top more than 2,500 m above the bed to be a moderate risk for minors', () => {
    const rise = (ageBand: 'adult' | '8-11', sleepElevationM: number) =>
      judge('altitude', fitInput({ route: mountain({ baseM: 1900 }), cohort: { ageBand, sleepElevationM } }));
    expect(rise('8-11', 200).verdict).toBe('fits');
    expect(rise('8-11', 199).verdict).toBe('stretch');
    expect(rise('adult', 199).verdict).toBe('fits');
  });

  it('uses the trailhead’s height where the sleeping height is not stated, and asks', () => {
    const judged = judge('altitude', fitInput({ cohort: { sleepElevationM: null } }));
    expect(judged.demand).toBe(1200);
    expect(judged.toCheck).toContain('sleeping height');
  });

  it('holds a day trip over 3,500 m to be a moderate risk however high the group sleeps', () => {
    // Design, from sources.md §4: a summit over 3,500 m from a home below 1,200 m the same day; home is not stated
    const high = mountain({ baseM: 2700, gainM: 900, attributes: trail });
    for (const sleepElevationM of [900, 1300, 2700]) {
      expect(judge('altitude', fitInput({ route: high, cohort: { sleepElevationM } })).verdict).toBe(
        'stretch',
      );
    }
  });

  it('takes a sleeping height of 0 m as stated', () => {
    expect(judge('altitude', fitInput({ cohort: { sleepElevationM: 0 } })).demand).toBe(0);
  });

  it('tells the rise above the highest recent point', () => {
    expect(judge('altitude', fitInput()).reason).toContain('500 m above the highest point that everyone');
  });
});

describe('stormWindow', () => {
  it('fits where the latest start is not before the earliest', () => {
    const judged = judge('stormWindow', fitInput());
    expect(judged.verdict).toBe('fits');
    expect(judged.reason).toContain('11:06');
  });

  it('turns to stretch and then to not yet as the earliest start gets later', () => {
    const verdict = (earliestStart: string) =>
      judge('stormWindow', fitInput({ cohort: { earliestStart } })).verdict;
    const order = ['fits', 'stretch', 'notYet'];
    const found = [
      '04:00',
      '05:00',
      '05:30',
      '06:00',
      '06:20',
      '06:40',
      '07:00',
      '08:00',
      '10:00',
      '12:00',
    ].map(verdict);
    expect(new Set(found)).toEqual(new Set(order));
    expect([...found].sort((a, b) => order.indexOf(a) - order.indexOf(b))).toEqual(found);
  });

  it('fits where no ground lies above treeline', () => {
    const low = mountain({ attributes: { ...trail, treelineM: 2500 } });
    expect(judge('stormWindow', fitInput({ route: low })).verdict).toBe('fits');
  });

  it('is incomplete where treeline is unknown, and says what to state', () => {
    const judged = judge('stormWindow', fitInput({ route: mountain({ attributes: { rockClass: '2' } }) }));
    expect(judged.verdict).toBe('incomplete');
    expect(judged.reason).toContain('state its height');
  });

  it('is incomplete where a one-way line ends above treeline', () => {
    const up = mountain({ attributes: { ...trail, treelineM: 1000 } });
    const oneWay = { ...up, measures: { ...up.measures, shape: 'oneWay' as const } };
    expect(judge('stormWindow', fitInput({ route: oneWay })).verdict).toBe('incomplete');
  });

  it('speaks of the trailhead where that lies above treeline itself', () => {
    const high = mountain({ attributes: { ...trail, treelineM: 1000 } });
    expect(judge('stormWindow', fitInput({ route: high })).reason).toContain('back at the trailhead');
  });

  it('does not advise a start in the dark without headlamps, nor one hours earlier', () => {
    const dark = judge('stormWindow', fitInput({ cohort: { headlamps: false, earliestStart: '09:00' } }));
    expect(dark.verdict).not.toBe('fits');
    expect(dark.gap?.text).not.toContain('start');
  });

  it('keeps to a deadline that the program sets, and names the usual one beside it', () => {
    const { reason } = judge('stormWindow', fitInput({ cohort: { deadline: '10:00' } }));
    expect(reason).toContain('10:00');
    expect(reason).toContain('usually 11:06');
  });
});

describe('daylight', () => {
  it('fits on a summer day and not on a short winter one with a late start', () => {
    const low = mountain({ lengthUpM: 9000, attributes: { ...trail, treelineM: 2500 } });
    expect(judge('daylight', fitInput({ route: low })).verdict).toBe('fits');
    const winter = fitInput({
      route: low,
      date: '2026-12-21',
      cohort: { earliestStart: '10:00' },
      outings: [],
    });
    expect(judge('daylight', winter).verdict).toBe('ruledOut');
  });
});

describe('drive', () => {
  const answer = (trailhead: object, driveLimit: object | null, cohort: object = {}) =>
    judge(
      'drive',
      fitInput({ ...at(trailhead), cohort: { driveLimit, ...cohort } as Given['cohort'] & object }),
    );

  it('rules out by a stated distance beyond the limit', () => {
    expect(answer({ roadKm: 60 }, { km: 60 }).verdict).toBe('fits');
    expect(answer({ roadKm: 61 }, { km: 60 }).verdict).toBe('ruledOut');
  });

  it('stretches on an estimate beyond the limit, asks further on, and rules out only far beyond it', () => {
    // 0.25 degrees of latitude is 27.8 km; × 1.45 (Kim et al. 2015, mountain roads) is 40.3 km
    const home = { home: { lat: 46.35, lon: -30.2 } };
    expect(answer({}, { km: 41 }, home).verdict).toBe('fits');
    expect(answer({}, { km: 35 }, home).verdict).toBe('stretch');
    expect(answer({}, { km: 28 }, home).verdict).toBe('incomplete');
    expect(answer({}, { km: 24 }, home).verdict).toBe('ruledOut');
  });

  it('marks an estimate as one', () => {
    expect(answer({}, { km: 60 }).reason).toContain('estimated');
  });

  it('counts a limit of 0 km and a road of 0 km as stated', () => {
    expect(answer({ roadKm: 5 }, { km: 0 }).verdict).toBe('ruledOut');
    expect(answer({ roadKm: 0 }, { km: 10 }).verdict).toBe('fits');
  });

  it('counts as met without a limit, and asks', () => {
    expect(answer({ roadKm: 30 }, null)).toMatchObject({
      verdict: 'fits',
      toCheck: 'how far the group may drive',
    });
  });

  it('lets no estimate of minutes soften a stated distance', () => {
    expect(answer({ roadKm: 105 }, { km: 100, minutes: 110 }).verdict).toBe('ruledOut');
  });

  it('takes 0 km of road within a limit of 0 km', () => {
    expect(answer({ roadKm: 0, roadMin: 0 }, { km: 0 }).verdict).toBe('fits');
  });

  it('keeps to the minutes where they bind more', () => {
    expect(answer({ roadKm: 30, roadMin: 90 }, { km: 60, minutes: 60 })).toMatchObject({
      verdict: 'ruledOut',
      unit: 'min',
    });
  });
});

describe('roadAccess', () => {
  it.each([
    ['any', 'any', 'fits'],
    ['high', 'any', 'ruledOut'],
    ['high', 'high', 'fits'],
    ['fourWheel', 'high', 'ruledOut'],
    ['high', 'fourWheel', 'fits'],
  ] as const)('a road of need %s with a vehicle of clearance %s: %s', (roadClearance, clearance, verdict) => {
    const cohort = { vehicles: [{ seats: 12, clearance }] };
    expect(judge('roadAccess', fitInput({ ...at({ roadClearance }), cohort })).verdict).toBe(verdict);
  });

  it('is ruled out where no vehicle goes, or none with a seat, and a check where none is stated', () => {
    const answer = (vehicles: NonNullable<CohortInput['vehicles']> | null) =>
      judge('roadAccess', fitInput({ ...at({ roadClearance: 'any' }), cohort: { vehicles } }));
    expect(answer([])).toMatchObject({ verdict: 'ruledOut', code: 'tooFewSeats' });
    expect(answer([]).reason).toContain('no vehicle goes');
    expect(answer([{ seats: 0, clearance: 'any' }]).verdict).toBe('ruledOut');
    expect(answer(null)).toMatchObject({ verdict: 'fits', code: 'noVehicles' });
  });

  it('needs a seat for everyone', () => {
    const cohort = { vehicles: [{ seats: 9, clearance: 'high' as const }] };
    expect(judge('roadAccess', fitInput({ ...at({ roadClearance: 'high' }), cohort })).verdict).toBe(
      'ruledOut',
    );
  });

  it('counts as met where the road is not described, and asks', () => {
    expect(judge('roadAccess', fitInput(at({})))).toMatchObject({
      verdict: 'fits',
      toCheck: 'road clearance not stated',
    });
  });

  it('asks about a road whose status is not plainly open', () => {
    for (const roadStatus of ['washed out', 'not closed this year', 'gate locked']) {
      expect(judge('roadAccess', fitInput(at({ roadClearance: 'any', roadStatus })))).toMatchObject({
        verdict: 'fits',
        toCheck: `the road: ${roadStatus}`,
      });
    }
    expect(
      judge('roadAccess', fitInput(at({ roadClearance: 'any', roadStatus: 'open, dry' }))).toCheck,
    ).toBeUndefined();
  });

  it('counts seats where the road is not described, and one leader where none are stated', () => {
    const vehicles = [{ seats: 9, clearance: 'any' as const }];
    expect(judge('roadAccess', fitInput({ ...at({}), cohort: { vehicles } })).verdict).toBe('ruledOut');
    const full = { vehicles: [{ seats: 8, clearance: 'any' as const }], leaders: null };
    expect(judge('roadAccess', fitInput({ ...at({ roadClearance: 'any' }), cohort: full })).verdict).toBe(
      'ruledOut',
    );
  });

  describe('of a walk that ends elsewhere', () => {
    const traverse = (pickUp: string | null = null) => {
      const route = mountain({ attributes: { ...trail, trailhead: { roadClearance: 'high' }, pickUp } });
      return { ...route, measures: { ...route.measures, shape: 'oneWay' as const } };
    };
    const [high, any] = [
      { seats: 12, clearance: 'high' as const },
      { seats: 12, clearance: 'any' as const },
    ];

    it.each([
      ['one vehicle', [high], 'incomplete'],
      ['two of which one manages the road', [high, any], 'incomplete'],
      ['two that manage the road', [high, high], 'fits'],
      ['no vehicle', [], 'ruledOut'],
      ['one vehicle without the seats', [{ ...high, seats: 3 }], 'ruledOut'],
    ])('%s: %s', (_, vehicles, verdict) => {
      expect(judge('roadAccess', fitInput({ route: traverse(), cohort: { vehicles } })).verdict).toBe(
        verdict,
      );
    });

    it('fits with one vehicle where a pick-up at the end is stated, and says what is missing without', () => {
      const cohort = { vehicles: [high] };
      const pickUp = 'bus from Plover Head at 15:10 and 17:10';
      expect(judge('roadAccess', fitInput({ route: traverse(pickUp), cohort })).verdict).toBe('fits');
      expect(judge('roadAccess', fitInput({ route: traverse(), cohort })).reason).toMatch(
        /ends elsewhere and only one vehicle .* state a second one/,
      );
    });
  });

  it('is ruled out where the road is closed', () => {
    expect(judge('roadAccess', fitInput(at({ roadStatus: 'Closed by a landslip' }))).verdict).toBe(
      'ruledOut',
    );
  });
});

describe('partySize', () => {
  it('counts participants and leaders', () => {
    expect(judge('partySize', fitInput(at({}, { groupSizeLimit: 10 }))).verdict).toBe('fits');
    expect(judge('partySize', fitInput(at({}, { groupSizeLimit: 9 }))).verdict).toBe('ruledOut');
  });

  it('counts as met where no limit is stated, and asks', () => {
    expect(judge('partySize', fitInput())).toMatchObject({
      verdict: 'fits',
      toCheck: 'party limit not stated',
    });
  });

  it('stays open for a party larger than many places take, until the limit is stated', () => {
    const answer = (participants: number, more: object = {}) =>
      judge('partySize', fitInput({ ...at({}, more), cohort: { participants, leaders: 3 } })).verdict;
    expect(answer(12)).toBe('fits');
    expect(answer(13)).toBe('incomplete');
    expect(answer(13, { groupSizeLimit: 16 })).toBe('fits');
  });
});

describe('leaders', () => {
  // Common practice, no source: settings of the program.
  it.each([
    ['8-11', 20, 1, 'ruledOut'],
    ['8-11', 12, 2, 'fits'],
    ['8-11', 13, 2, 'ruledOut'],
    ['12-14', 1, 1, 'ruledOut'],
    ['15-17', 8, 2, 'fits'],
    ['adult', 12, 1, 'fits'],
    ['adult', 13, 1, 'ruledOut'],
    ['adult', 4, 0, 'ruledOut'],
    [null, 8, 1, 'ruledOut'],
  ] as const)('for the age %s: %i participants with %i: %s', (ageBand, participants, leaders, verdict) => {
    expect(judge('leaders', fitInput({ cohort: { ageBand, participants, leaders } })).verdict).toBe(verdict);
  });

  it('stays open with minors where their number is not stated, and is a check with adults', () => {
    const open = (ageBand: 'adult' | '12-14') =>
      judge('leaders', fitInput({ cohort: { ageBand, leaders: null } }));
    expect(open('12-14').verdict).toBe('incomplete');
    expect(open('adult')).toMatchObject({ verdict: 'fits', toCheck: 'number of leaders not stated' });
  });

  it('says what would do', () => {
    const { reason } = judge(
      'leaders',
      fitInput({ cohort: { participants: 20, leaders: 2, ageBand: '8-11' } }),
    );
    expect(reason).toMatch(/4 leaders.*2 more leaders.*12 participants/);
  });

  it('is never answered worse for one more leader', () => {
    for (const ageBand of ['8-11', '12-14', '15-17', 'adult'] as const) {
      for (const participants of [1, 6, 7, 12, 13, 25]) {
        const ranks = [0, 1, 2, 3, 4, 5, 6, 7].map((leaders) =>
          verdictRank(judge('leaders', fitInput({ cohort: { ageBand, participants, leaders } })).verdict),
        );
        expect(ranks).toEqual([...ranks].sort((a, b) => b - a));
      }
    }
  });
});

describe('hours', () => {
  // 45 min up, 15 min gathering and 20 min getting ready at the trailhead (settings), and the drive.
  const after = (roadMin: number | null, start: string, ageBand: AgeBand = 'adult') =>
    judge('hours', fitInput({ ...at({ roadMin }), cohort: { ageBand }, start }));

  it.each([
    ['8-11', '06:50', 60, 'fits'],
    ['8-11', '06:45', 60, 'stretch'],
    ['8-11', '05:50', 60, 'stretch'],
    ['8-11', '05:45', 60, 'ruledOut'],
    ['adult', '03:20', 60, 'fits'],
    ['adult', '03:15', 60, 'stretch'],
  ] as const)('of %s starting at %s after a drive of %i min: %s', (ageBand, start, roadMin, verdict) => {
    expect(after(roadMin, start, ageBand).verdict).toBe(verdict);
  });

  it('counts how long the driver has been awake at the end of the drive home', () => {
    const days = Array.from({ length: 13 }, (_, i) => after(100 + 25 * i, '10:00'));
    for (const { demand, capacity, code, verdict } of days) {
      const beyondMin = Number(demand) - Number(capacity);
      expect(capacity).toBe(16 * 60);
      expect(code === 'long').toBe(beyondMin > 0);
      expect(verdict).toBe(beyondMin <= 0 ? 'fits' : beyondMin <= 60 ? 'stretch' : 'ruledOut');
    }
    expect(new Set(days.map(({ verdict }) => verdict)).size).toBe(3);
    // Minutes of road count twice.
    expect(Number(days[1]?.demand) - Number(days[0]?.demand)).toBeCloseTo(50, 9);
  });

  it('is never answered better for a longer drive, nor for an earlier start', () => {
    const ranks = [0, 30, 60, 120, 240, 360].map((roadMin) => verdictRank(after(roadMin, '07:00').verdict));
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    const starts = ['09:00', '07:00', '05:00', '03:30', '03:00', '02:00'];
    const values = starts.map((start) => after(30, start, '12-14').value ?? 0);
    expect(values).toEqual([...values].sort((a, b) => b - a));
  });

  it('asks for the drive where it is not known, and judges the waking without it', () => {
    const home = { ...at({}), cohort: { home: null } };
    expect(judge('hours', fitInput({ ...home, start: '06:00' }))).toMatchObject({
      code: 'noDrive',
      verdict: 'fits',
    });
  });
});

describe('season', () => {
  it('lets a season wrap the new year', () => {
    const within = (date: string, from: string, to: string) =>
      withinSpan(dayNumber(date), dayNumber(from), dayNumber(to));
    expect(within('2026-01-10', '11-01', '03-31')).toBe(true);
    expect(within('2026-07-10', '11-01', '03-31')).toBe(false);
    expect(within('2026-06-15', '06-15', '10-01')).toBe(true);
    expect(within('2026-10-01', '06-15', '10-01')).toBe(true);
  });

  it('rules out the wrong season and a closure on the day', () => {
    expect(judge('season', fitInput(at({}, { season: { from: '08-01', to: '10-01' } }))).verdict).toBe(
      'ruledOut',
    );
    const closures = [{ from: TRIP, to: TRIP, reason: 'nesting' }];
    expect(judge('season', fitInput(at({}, { closures }))).reason).toContain('nesting');
  });

  it('counts as met where none is stated, and asks', () => {
    expect(judge('season', fitInput())).toMatchObject({ verdict: 'fits', toCheck: 'season not stated' });
  });
});

describe('aim', () => {
  it('is never a veto, and falls with the distance from its share', () => {
    const value = (gainM: number) => judge('aim', fitInput({ outings: [shownDay(12000, gainM)] }));
    expect(value(300).verdict).toBe('fits');
    expect(value(5000).verdict).toBe('fits');
    expect(value(1000).value).toBeGreaterThan(value(5000).value ?? 1);
  });
});

describe('words of a reason', () => {
  it('say “just over” where what is beyond a stretch would round to it', () => {
    const reasonAt = (km: number) =>
      judge('distance', fitInput({ outings: [shownDay((1000 * km) / 1.103, 1200)] })).reason;
    const { distanceM } = fitInput().route.measures;
    expect(reasonAt(distanceM / 1000)).toContain('just over the 10 % beyond it that a stretch reaches');
  });

  it('name days of the year by their months, 29 February too, and leave dates alone', () => {
    expect(['08-01', '02-29', '2026-06-20'].map(seasonDayText)).toEqual([
      '1 August',
      '29 February',
      '2026-06-20',
    ]);
  });
});
