import type Type from 'typebox';
import { describe, expect, it } from 'vitest';
import { DESIGN, designSchema, withChanges } from '../src/design.ts';
import { EngineError, faultsOf } from '../src/errors.ts';

const refused = (changes: unknown): EngineError => {
  try {
    withChanges(changes);
  } catch (error) {
    if (error instanceof EngineError) return error;
    throw error;
  }
  throw new RangeError('nothing was refused');
};

describe('the settings', () => {
  it('accept every default of their own', () => {
    expect(withChanges(structuredClone(DESIGN))).toEqual(DESIGN);
  });

  it('change only what is named', () => {
    const changed = withChanges({ limits: { stretchAdult: 1.15 }, treeline: { programM: -10 } });
    expect(changed.limits).toEqual({ ...DESIGN.limits, stretchAdult: 1.15 });
    expect(changed.treeline.programM).toBe(-10);
    expect(withChanges({ treeline: { programM: null } }, changed).treeline.programM).toBeNull();
    expect(DESIGN.limits.stretchAdult).toBe(1.25);
  });

  it.each([
    [{ limit: {} }, '/limit'],
    [{ limits: { stretchMinor: 0.9 } }, '/limits/stretchMinor'],
    [{ limits: { stretchMinor: '1.1' } }, '/limits/stretchMinor'],
    [{ stormWindow: { latestClock: 'noon' } }, '/stormWindow/latestClock'],
    [{ stormWindow: { probability: 90 } }, '/stormWindow/probability'],
    [{ day: { usualStart: '8:00' } }, '/day/usualStart'],
    [{ day: { roundStartMin: 0 } }, '/day/roundStartMin'],
    [{ stops: { priorHours: 0 } }, '/stops/priorHours'],
    [{ pace: { ownSpread: 0 } }, '/pace/ownSpread'],
    [{ tradeRule: { minPerKm: 0 } }, '/tradeRule/minPerKm'],
    [{ drive: { kmPerH: 0 } }, '/drive/kmPerH'],
    [{ detraining: { lossMax: 5 } }, '/detraining/lossMax'],
    [{ weights: Object.fromEntries(Object.keys(DESIGN.weights).map((name) => [name, 0])) }, '/weights'],
    [{ stormWindow: { probability: 0.7 } }, '/stormWindow/stretchProbability'],
    [{ pace: null }, '/pace'],
    [{ limits: { stretchMinor: Number.POSITIVE_INFINITY } }, '/limits/stretchMinor'],
  ])('refuse %j and say where', (changes, pointer) => {
    const error = refused(changes);
    expect(error.code).toBe('bad-settings');
    expect(error.place.pointer).toBe(pointer);
  });

  it('are refused all at once', () => {
    const changes = { limit: 1, day: { usualStart: '8:00', mealMin: -1 }, weights: null };
    expect(faultsOf(() => withChanges(changes)).map(({ place }) => place.pointer)).toEqual([
      '/limit',
      '/day/usualStart',
      '/day/mealMin',
      '/weights',
    ]);
  });
});

interface Setting extends Type.TSchema {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Setting>>;
  readonly anyOf?: readonly Setting[];
  readonly description?: string;
  readonly default?: unknown;
  readonly minimum?: number;
  readonly maximum?: number;
}

const settingsIn = (
  schema: Setting,
  pointer = '',
): { pointer: string; setting: Setting; isSaid: boolean }[] =>
  Object.entries(schema.properties ?? {}).flatMap(([key, setting]) =>
    setting.type === 'object'
      ? settingsIn(setting, `${pointer}/${key}`)
      : [
          {
            pointer: `${pointer}/${key}`,
            setting,
            isSaid: (setting.description ?? schema.description ?? '') !== '',
          },
        ],
  );

describe('each setting', () => {
  const settings = settingsIn(designSchema);

  it('that is a number has a range, and its default lies in it', () => {
    const ranges = settings.flatMap(({ pointer, setting }) => {
      const { minimum, maximum, type } = setting.anyOf?.[0] ?? setting;
      if (type === 'string') return [];
      return [{ pointer, minimum, maximum, value: setting.default }];
    });
    expect(ranges.length).toBeGreaterThan(150);
    const wrong = ranges.filter(
      ({ minimum, maximum, value }) =>
        minimum === undefined ||
        maximum === undefined ||
        minimum >= maximum ||
        (value !== null && !(typeof value === 'number' && value >= minimum && value <= maximum)),
    );
    expect(wrong).toEqual([]);
  });

  it('says what it is, and has a default', () => {
    expect(settings.filter(({ setting, isSaid }) => !isSaid || setting.default === undefined)).toEqual([]);
  });
});
