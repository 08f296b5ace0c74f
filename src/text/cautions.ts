/** What the best verdict means, and what it does not. Stands at the foot of every shortlist and plan. */
export const MEANING_OF_FITS =
  '“Fits” means within what the group has shown. It is not a statement that the day is safe.';

/** The usual cautions (common practice; the lightning advice follows the US National Weather Service). */
export const CAUTIONS: readonly string[] = [
  'All figures are estimates from terrain data and from past days; weather, snow, rockfall and the people of the day are not in them. Look at the ground and the forecast before you decide.',
  'Lightning: plan to be off high open ground by the deadline. On hearing thunder go down below treeline at once; there is no safe place outdoors.',
  'Altitude: headache with feeling sick, tired or dizzy means stop and rest, and go down if it does not get better. Unsteady, confused or breathless at rest: go down at once and get help.',
  'The leader on the spot decides, and turning round is always right. The party divides only if each part keeps the program’s minimum of leaders.',
  'Local rules, land managers and licensed practice come first. Not for navigation.',
];
