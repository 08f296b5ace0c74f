// Filters and what-ifs take effect as they are made: the part of the page that they change is fetched and put in.

const form = /** @type {HTMLFormElement | null} */ (document.querySelector('form[data-fragment]'));
const part = document.getElementById('shortlist');
const said = document.getElementById('said');

/** Wait after the last key, ms (design). */
const PAUSE_MS = 250;
/** @type {AbortController | null} */
let underWay = null;

/**
 * @param {URL} url of the page that would be opened
 * @param {boolean} isMeant whether it was asked for, and not only come about on the way to something
 */
async function show(url, isMeant) {
  if (form === null || part === null || said === null) return;
  underWay?.abort();
  const mine = new AbortController();
  underWay = mine;
  part.setAttribute('aria-busy', 'true');
  try {
    const fragment = new URL(form.dataset.fragment ?? '', location.href);
    fragment.search = url.search;
    const answer = await fetch(fragment, { signal: mine.signal, headers: { accept: 'text/html' } });
    if (!answer.ok) throw new Error(String(answer.status));
    part.innerHTML = await answer.text();
    history.replaceState(null, '', url);
    said.textContent = part.querySelector('[data-summary]')?.textContent ?? '';
  } catch {
    if (mine.signal.aborted) return;
    // Something may be half typed. What was meant is shown by the page itself, with what is wrong.
    if (isMeant) location.assign(url);
  } finally {
    if (underWay === mine) part.removeAttribute('aria-busy');
  }
}

/** @param {HTMLFormElement} of */
function addressOf(of) {
  const url = new URL(of.action, location.href);
  url.search = '';
  for (const [name, value] of new FormData(of)) {
    if (typeof value === 'string' && value !== '') url.searchParams.append(name, value);
  }
  return url;
}

/**
 * Whether a field says something else than it came with.
 * @param {Element} field
 */
function isChanged(field) {
  if (field instanceof HTMLSelectElement) {
    const first = [...field.options].findIndex(({ defaultSelected }) => defaultSelected);
    return field.selectedIndex !== Math.max(0, first);
  }
  if (!(field instanceof HTMLInputElement)) return false;
  return field.type === 'checkbox'
    ? field.checked !== field.defaultChecked
    : field.value !== field.defaultValue;
}

if (form !== null && part !== null) {
  let timer = 0;
  const soon = () => {
    clearTimeout(timer);
    timer = window.setTimeout(() => {
      // A date half typed is no date yet.
      if (form.checkValidity()) show(addressOf(form), false);
    }, PAUSE_MS);
  };
  form.addEventListener('input', soon);
  // The fields are there before the list, and this runs after it; a browser may also fill in again what was typed before.
  if ([...form.elements].some(isChanged)) soon();
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    clearTimeout(timer);
    show(addressOf(form), true);
  });
  part.addEventListener('click', (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
    const link = event.target instanceof Element ? event.target.closest('a[data-within]') : null;
    if (!(link instanceof HTMLAnchorElement)) return;
    event.preventDefault();
    const name = link.dataset.within;
    show(new URL(link.href), true).then(() => {
      /** @type {HTMLElement | null} */ (part.querySelector(`[data-within="${name}"]`))?.focus();
    });
  });
}
