import type { LightningBackground } from '../day/lightning-background.ts';
import { percentText } from '../text/words.ts';
import type { PageLine } from './people-page.ts';

const clockText = (hour: number): string => `${String(hour).padStart(2, '0')}:00`;

/** A mean of years: an hour with few flashes, or none, is not an hour without lightning. */
const shareText = (share: number): string => (share < 0.005 ? 'under 1 %' : percentText(share));

/** How lightning is spread over the hours in the place's own region, as background; nothing outside published regions. */
export function lightningLines(background: LightningBackground | null): PageLine[] {
  if (background === null) return [];
  const hours = background.hours
    .filter(({ hour }) => hour >= 9)
    .map(({ hour, shareOfHighest }) => `${clockText(hour)} ${shareText(shareOfHighest)}`)
    .join(', ');
  return [
    {
      text: `Background, scored nowhere: lightning by the hour in ${background.region} in this month, against ${clockText(background.highestHour)} (${background.clock}): ${hours}.`,
      source: background.source,
    },
    ...background.caveats.map((text) => ({ text, source: null })),
  ];
}
