/**
 * A piece of the user's input, safe to repeat in a one-line message: at most `max` characters,
 * control, format and unpaired characters shown as `?`.
 */
export function quote(text: string, max = 40): string {
  const cut = text.slice(0, max);
  const shown = cut.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, '?');
  return `"${shown}${text.length > max ? '…' : ''}"`;
}
