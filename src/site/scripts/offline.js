// The service worker: plans that were looked at can be read without the service. It keeps nothing that is sent, and no
// other page than plans and the list of them.

const worker = /** @type {any} */ (self);
const { searchParams } = new URL(location.href);
/** The list of what is kept, and what that page needs: fixed for this version of the worker. */
const shell = searchParams.getAll('keep');
const [listPath = '/kept'] = shell;
const SHELL_CACHE = `krummholz-shell-${searchParams.get('v')}`;
const PLANS_CACHE = 'krummholz-plans';
/** A weak signal is waited for so long before what is kept is shown, ms (design). */
const PATIENCE_MS = 5000;
/** Files are kept under names that change with them: what a request says it takes makes no other file of them. */
const ANY = { ignoreVary: true };

worker.addEventListener('install', (/** @type {any} */ event) => {
  event.waitUntil(
    caches
      .open(SHELL_CACHE)
      .then((cache) => cache.addAll(shell))
      .then(() => worker.skipWaiting()),
  );
});

worker.addEventListener('activate', (/** @type {any} */ event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names
            .filter((name) => name.startsWith('krummholz-shell-') && name !== SHELL_CACHE)
            .map((name) => caches.delete(name)),
        ),
      )
      .then(() => worker.clients.claim()),
  );
});

/**
 * The clock of this device, as a watch beside it shows it, and how long ago that was. The same stands in keep.js: a worker and
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

/**
 * The kept copy with a line above it that says so.
 * @param {Response} kept
 */
async function asKept(kept) {
  const at = kept.headers.get('x-kept-at') ?? '';
  const said = `<p role="status"><strong>Kept on this device as of ${timeOf(at)}.</strong> The service does not answer: what has changed since is not in it.</p>`;
  const text = (await kept.text()).replace(/<body>/, `<body>${said}`);
  return new Response(text, { status: 200, headers: kept.headers });
}

const keptList = async () => (await caches.match(listPath, ANY)) ?? Response.error();

/**
 * The kept plan that the page at an address leads to: of its date, where it names one.
 * @param {string} address
 */
async function planBehind(address) {
  const { pathname, searchParams: asked } = new URL(address);
  if (!pathname.endsWith('/plan')) return undefined;
  const cache = await caches.open(PLANS_CACHE);
  const date = asked.get('date');
  for (const { url } of [...(await cache.keys())].reverse()) {
    const kept = new URL(url);
    if (kept.pathname !== `${pathname}/sheets`) continue;
    if (date === null || date === kept.searchParams.get('date')) return cache.match(url, ANY);
  }
  return undefined;
}

/** @param {Request} request */
async function fromNetwork(request) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
  try {
    return await fetch(request.url, {
      signal: stop.signal,
      credentials: 'same-origin',
      headers: { accept: 'text/html' },
    });
  } finally {
    clearTimeout(timer);
  }
}

/** @param {Request} request of a page */
async function answer(request) {
  const isPlan = new URL(request.url).pathname.endsWith('/plan/sheets');
  const isList = new URL(request.url).pathname === new URL(listPath, location.href).pathname;
  if (!isPlan && !isList) {
    // Other pages take as long as they take; without the service the plan stands in for the page that leads to it, and
    // the list of what is kept for the others.
    return fetch(request).catch(async () => {
      const kept = await planBehind(request.url);
      return kept === undefined ? keptList() : asKept(kept);
    });
  }
  try {
    return await fromNetwork(request);
  } catch {
    const kept = isPlan ? await (await caches.open(PLANS_CACHE)).match(request.url, ANY) : undefined;
    if (kept !== undefined) return asKept(kept);
    return keptList();
  }
}

worker.addEventListener('fetch', (/** @type {any} */ event) => {
  /** @type {Request} */
  const request = event.request;
  if (request.method !== 'GET' || new URL(request.url).origin !== location.origin) return;
  if (request.mode === 'navigate') event.respondWith(answer(request));
  else if (shell.includes(new URL(request.url).pathname)) {
    event.respondWith(caches.match(request, ANY).then((kept) => kept ?? fetch(request)));
  }
});
