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

/** Grades behind the point of class 5 reach 99.4: a third of a class is more than all of them. */
const ORDER_PER_CLASS = 1000;
const GRADES = 100;

/**
 * A class as a number by which classes are told to be harder. Within class 5, whose value is 5 whatever stands behind
 * the point, the grade behind it decides: 5.10 is harder than 5.9, and 5.10b than 5.10a.
 */
export const rockClassOrder = (text: string): number =>
  ORDER_PER_CLASS * rockClassValue(text) + fifthClassGrade(text);

/** `rockClassValue` of the class that has this order. */
export function valueOfOrder(order: number): number {
  const plain = ORDER_PER_CLASS * Math.floor(order / ORDER_PER_CLASS);
  return (order - plain < GRADES ? plain : order) / ORDER_PER_CLASS;
}

/** Whether one stated class is harder than another. */
export const isHarderClass = (one: string, other: string): boolean =>
  rockClassOrder(one) > rockClassOrder(other);

/** The harder of two classes, of equal ones the first; a stated one beside one that is not. */
export function harderClass(one: string | null, other: string | null): string | null {
  if (one === null || other === null) return one ?? other;
  return isHarderClass(other, one) ? other : one;
}

function fifthClassGrade(text: string): number {
  const [, grade, letter] = /^5\.(\d{1,2})([a-d])?/.exec(text) ?? [];
  if (grade === undefined) return 0;
  return Number(grade) + (letter === undefined ? 0 : (letter.charCodeAt(0) - 96) / 10);
}
