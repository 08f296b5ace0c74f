import type { AltitudeGround, AltitudeHistory } from '../capability/altitude.ts';
import type { UnitSystem } from '../units.ts';
import { heightText } from './words.ts';

const HISTORY: Record<AltitudeHistory, string> = {
  none: 'no altitude illness before',
  mild: 'only mild altitude illness before',
  severe: 'moderate to severe altitude illness before',
  hapeHace: 'high-altitude oedema of the lung or brain before',
};

function groundText(ground: AltitudeGround, units: UnitSystem): string {
  const height = (heightM: number) => heightText(heightM, units);
  switch (ground.by) {
    case 'sleep':
      return `sleeping at ${height(ground.sleepM)}`;
    case 'history':
      return HISTORY[ground.history];
    case 'summit': {
      const home = ground.homeM === null ? 'a home that may lie low' : `a home at ${height(ground.homeM)}`;
      return `a summit of ${height(ground.summitM)} from ${home}`;
    }
    case 'rise':
      return `a top ${height(ground.riseM)} above the bed, for minors`;
    case 'ascent': {
      if (ground.column === 'low') return 'nights rising slowly enough';
      const rising = `nights rising by over ${height(ground.slowGainM)}`;
      return ground.column === 'high'
        ? `${rising} without extra nights`
        : `${rising}, or without an extra night for each ${height(ground.restEveryM)}`;
    }
  }
}

/** What reaches a column of the risk of altitude illness. */
export const altitudeGroundsText = (grounds: readonly AltitudeGround[], units: UnitSystem): string =>
  grounds.map((ground) => groundText(ground, units)).join('; ');
