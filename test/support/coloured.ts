/** Run in a page: colours of what is drawn and written that are no grey. */
export const COLOURED = `[...document.querySelectorAll('main, main *')].flatMap((element) => {
  const { color, stroke, fill } = getComputedStyle(element);
  return [color, stroke, fill].filter((value) => {
    const [r, g, b] = (value.match(/^rgba?\\((\\d+), (\\d+), (\\d+)/) ?? []).slice(1).map(Number);
    return r !== undefined && Math.max(r, g, b) - Math.min(r, g, b) > 8;
  }).map((value) => element.tagName + '.' + element.getAttribute('class') + ' ' + value);
})`;
