import { describe, expect, it } from 'vitest';
import { bearingText, kindText, placeText } from '../../src/text/place-words.ts';
import { place } from '../plan/card-routes.ts';

describe('the name of a place', () => {
  it('is its own where the file gives one', () => {
    const lake = place({ kind: 'waypoint', distanceM: 900, name: 'Mirror Tarn', elevationM: 1240 });
    expect(placeText(lake, 'metric')).toBe('Mirror Tarn');
    expect(kindText(lake, 'us')).toBe('waypoint at 4,068 ft');
  });

  it('is its kind otherwise, with the height where that tells equals apart', () => {
    const at = (kind: Parameters<typeof place>[0]['kind']) =>
      place({ kind, distanceM: 900, elevationM: 1240 });
    expect(placeText(at('bend'), 'metric')).toBe('bend at 1,240 m');
    expect(placeText(at('shoulder'), 'metric')).toBe('shoulder, 1,240 m');
    expect(placeText(at('onTheWay'), 'us')).toBe('on the way, 4,068 ft');
    expect(placeText(at('trailhead'), 'metric')).toBe('trailhead');
    expect(placeText(at('treelineUp'), 'metric')).toBe('treeline, going up');
    expect(placeText(at('high'), 'metric')).toBe('highest point');
    expect(placeText(at('treelineDown'), 'metric')).toBe('treeline, below it again');
    expect(placeText(at('end'), 'metric')).toBe('end');
  });

  it('leaves out a height that is not known, and keeps a height of 0', () => {
    expect(placeText(place({ kind: 'bend', distanceM: 900 }), 'metric')).toBe('bend');
    expect(placeText(place({ kind: 'bend', distanceM: 900, elevationM: 0 }), 'metric')).toBe('bend at 0 m');
  });
});

describe('a bearing', () => {
  it('has three digits and never reads 360', () => {
    expect([0, 4.6, 89.5, 359.4, 359.7, 360].map(bearingText)).toEqual([
      '000°',
      '005°',
      '090°',
      '359°',
      '000°',
      '000°',
    ]);
  });
});
