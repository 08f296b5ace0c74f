import { describe, expect, it } from 'vitest';
import { wholeFigures } from '../../src/markup/words.tsx';

/** With `_` for a no-break space. */
const shown = (text: string): string => wholeFigures(text).replaceAll('\u00A0', '_');

describe('figures in a text', () => {
  it('keep their units on the line', () => {
    expect(shown('9.4 km, 940 m up to 1,950 m')).toBe('9.4_km, 940_m up to 1,950_m');
    expect(shown('1 h 25 min and 40 km/h, 92 %, -4 °C')).toBe('1_h_25_min and 40_km/h, 92_%, -4_°C');
    expect(shown('46.10510 N, 30.20340 W')).toBe('46.10510_N, 30.20340_W');
    expect(shown('46° 06.306′ N')).toBe('46° 06.306′_N');
  });

  it('leave words alone that only begin like a unit', () => {
    expect(shown('2 metres, 4 hats, 3 Norwegians, 9 participants')).toBe(
      '2 metres, 4 hats, 3 Norwegians, 9 participants',
    );
  });
});
