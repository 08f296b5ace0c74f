import { ROCK_CLASS_PATTERN } from './attributes.ts';

const PATTERN = new RegExp(ROCK_CLASS_PATTERN, 'u');

/**
 * A class as a number that can be compared: "2+" is 2.33, "3-" is 2.67, any 5.x is 5, and with a
 * summit block ("3s4") the harder of the two counts. The encoding is design; no published standard
 * exists for plus and minus in classes 1 to 4.
 * @throws RangeError where the text is no class; texts of users have passed ROCK_CLASS_PATTERN before.
 * @example rockClassValue('2+') // 2.33
 */
export function rockClassValue(text: string): number {
  if (!PATTERN.test(text)) throw new RangeError(`not a rock class: ${text.slice(0, 20)}`);
  return Math.max(...text.split('s').map(partValue));
}

function partValue(part: string): number {
  const base = Number(part[0]);
  // Within class 5 plus and minus refine the decimal grade, not the class.
  if (part.includes('.')) return base;
  const shift = part.endsWith('+') ? 33 : part.endsWith('-') ? -33 : 0;
  return (base * 100 + shift) / 100;
}
