import { M_PER_MILE, type UnitSystem } from '../units.ts';
import { percentText } from './words.ts';

const KG_PER_LB = 0.453_592_37; // avoirdupois pound, exact
const L_PER_QT = 0.946_352_946; // US liquid quart, exact

const whole = new Intl.NumberFormat('en', { maximumFractionDigits: 0 });
const tenth = new Intl.NumberFormat('en', { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const asIs = new Intl.NumberFormat('en', { maximumFractionDigits: 2 });

/** Water: `4.5 L`; where US units are asked for, with quarts behind it, rounded up: bottles come in both. */
export function litresText(litres: number, units: UnitSystem): string {
  const text = `${tenth.format(litres)} L`;
  return units === 'us'
    ? `${text} (${tenth.format(Math.ceil((litres / L_PER_QT) * 10 - 1e-9) / 10)} qt)`
    : text;
}

/** A rate of drinking: `0.75 L an hour`. */
export const litresPerHourText = (litresPerH: number): string => `${asIs.format(litresPerH)} L an hour`;

/** `7.2 kg` or `15.9 lb`. */
export const massText = (kg: number, units: UnitSystem): string =>
  units === 'us' ? `${tenth.format(kg / KG_PER_LB)} lb` : `${tenth.format(kg)} kg`;

/** Food energy, to 50 kcal, rounded up: nobody packs to the kilocalorie. */
export const kcalText = (kcal: number): string => `${whole.format(Math.ceil(kcal / 50 - 1e-9) * 50)} kcal`;

// The sign of a temperature is a true minus, and -0 is 0.
const signed = (value: number): string => whole.format(Math.round(value) + 0).replace('-', '−');

/** `−4 °C` or `25 °F`. */
export const temperatureText = (celsius: number, units: UnitSystem): string =>
  units === 'us' ? `${signed(celsius * 1.8 + 32)} °F` : `${signed(celsius)} °C`;

/** A difference of temperatures: `9 °C` or `16 °F`. */
export const temperatureStepText = (kelvin: number, units: UnitSystem): string =>
  units === 'us' ? `${signed(kelvin * 1.8)} °F` : `${signed(kelvin)} °C`;

/** A speed of wind in whole numbers, rounded as it is meant: `40 km/h` or `25 mph`. */
export const windText = (kmPerH: number, units: UnitSystem, whole: (value: number) => number): string =>
  units === 'us' ? `${whole((kmPerH * 1000) / M_PER_MILE)} mph` : `${whole(kmPerH)} km/h`;

/** A pack with its share of body mass: `7.2 kg, 20 % of 36 kg`. */
export const packText = (totalKg: number, bodyKg: number, units: UnitSystem): string =>
  `${massText(totalKg, units)}, ${percentText(totalKg / bodyKg)} of ${massText(bodyKg, units)}`;
