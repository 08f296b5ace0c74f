// Keeps the plan of this page on the device, and lists and forgets what is kept.

const PLANS_CACHE = 'krummholz-plans';
/** Plans kept at most: the one of the day and its lower choice, and one before (design). */
const MOST = 3;

const worker = /** @type {HTMLElement | null} */ (document.querySelector('[data-worker]'));
const plan = /** @type {HTMLElement | null} */ (document.querySelector('[data-plan]'));
const list = document.getElementById('kept');
const said = document.getElementById('kept-said');
const forget = document.getElementById('forget');

/**
 * The clock of this device, as a watch beside it shows it, and how long ago that was. The same stands in offline.js: a worker and
 * a page share no file.
 * @param {string | null} at
 */
function timeOf(at) {
  const then = new Date(at ?? '');
  if (Number.isNaN(then.getTime())) return 'a time not known';
  const two = (/** @type {number} */ n) => String(n).padStart(2, '0');
  const day = `${then.getFullYear()}-${two(then.getMonth() + 1)}-${two(then.getDate())}`;
  const min = Math.max(0, Math.floor((Date.now() - then.getTime()) / 60_000));
  const age =
    min < 60 ? `${min} min` : min < 2880 ? `${Math.floor(min / 60)} h` : `${Math.floor(min / 1440)} days`;
  return `${day} ${two(then.getHours())}:${two(then.getMinutes())}, ${age} ago`;
}

/** @param {string} path */
async function keep(path) {
  const answer = await fetch(path, { headers: { accept: 'text/html' } });
  if (!answer.ok) return;
  const now = new Date().toISOString();
  const headers = new Headers(answer.headers);
  headers.set('x-kept-at', now);
  headers.set('x-kept-title', encodeURIComponent(plan?.dataset.title ?? 'a trip plan'));
  const cache = await caches.open(PLANS_CACHE);
  const url = new URL(path, location.href).href;
  await cache.delete(url);
  await cache.put(url, new Response(await answer.text(), { headers }));
  for (const old of (await cache.keys()).slice(0, -MOST)) await cache.delete(old);
  if (said !== null) said.textContent = `Kept on this device as of ${timeOf(now)}.`;
}

async function show() {
  if (list === null || said === null || forget === null) return;
  const cache = await caches.open(PLANS_CACHE);
  const kept = await cache.keys();
  list.replaceChildren();
  for (const request of kept) {
    const answer = await cache.match(request);
    const link = document.createElement('a');
    link.href = request.url;
    link.textContent = decodeURIComponent(answer?.headers.get('x-kept-title') ?? 'a trip plan');
    const item = document.createElement('li');
    item.append(link, `, as of ${timeOf(answer?.headers.get('x-kept-at') ?? null)}`);
    list.append(item);
  }
  said.textContent = kept.length === 0 ? 'Nothing is kept on this device.' : '';
  forget.hidden = kept.length === 0;
}

if ('caches' in window && worker !== null) {
  forget?.addEventListener('click', async () => {
    await caches.delete(PLANS_CACHE);
    await show();
  });
  if (plan?.dataset.plan !== undefined) keep(plan.dataset.plan).catch(() => undefined);
  else show();
  // Without a worker the plan is still in the file that can be saved.
  navigator.serviceWorker?.register(worker.dataset.worker ?? '').catch(() => undefined);
}
