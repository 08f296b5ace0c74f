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
 * The kept copy with a line above it that says so.
 * @param {Response} kept
 */
async function asKept(kept) {
  const at = kept.headers.get('x-kept-at') ?? '';
  const said = `<p role="status"><strong>Kept on this device as of ${at.slice(0, 16).replace('T', ' ')} UTC.</strong> The service does not answer: what has changed since is not in it.</p>`;
  const text = (await kept.text()).replace(/<body>/, `<body>${said}`);
  return new Response(text, { status: 200, headers: kept.headers });
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
    // Other pages take as long as they take; without the service the list of what is kept stands in.
    return fetch(request).catch(async () => (await caches.match(listPath)) ?? Response.error());
  }
  try {
    return await fromNetwork(request);
  } catch {
    const kept = isPlan ? await (await caches.open(PLANS_CACHE)).match(request.url) : undefined;
    if (kept !== undefined) return asKept(kept);
    return (await caches.match(listPath)) ?? Response.error();
  }
}

worker.addEventListener('fetch', (/** @type {any} */ event) => {
  /** @type {Request} */
  const request = event.request;
  if (request.method !== 'GET' || new URL(request.url).origin !== location.origin) return;
  if (request.mode === 'navigate') event.respondWith(answer(request));
  else if (shell.includes(new URL(request.url).pathname)) {
    event.respondWith(caches.match(request).then((kept) => kept ?? fetch(request)));
  }
});
