import { describe, expect, it } from 'vitest';
import { DESIGN, withChanges } from '../src/design.ts';
import { EngineError } from '../src/errors.ts';

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
});
