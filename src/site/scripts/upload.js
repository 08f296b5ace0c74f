// Files are sent one by one, each with its attributes, so that each has a result of its own and the bar shows what is
// really done. Without this script the form sends them all at once.

const form = /** @type {HTMLFormElement | null} */ (document.getElementById('upload'));
const input = /** @type {HTMLInputElement | null} */ (document.getElementById('files'));
const drop = document.getElementById('drop');
const bar = /** @type {HTMLProgressElement | null} */ (document.getElementById('progress'));
const said = document.getElementById('progress-text');
const results = document.getElementById('results');

/** @param {string} name */
const stem = (name) => name.replace(/(\.route\.json|\.[A-Za-z0-9]{1,8})$/i, '');

/**
 * Route files, each with the attributes beside it.
 * @param {File[]} files
 */
function groups(files) {
  const routes = files.filter((file) => !/\.route\.json$/i.test(file.name));
  const besides = files.filter((file) => /\.route\.json$/i.test(file.name));
  const grouped = routes.map((route) => [
    route,
    ...besides.filter((one) => stem(one.name) === stem(route.name)),
  ]);
  const alone = besides.filter((one) => !routes.some((route) => stem(route.name) === stem(one.name)));
  return [...grouped, ...alone.map((one) => [one])];
}

/**
 * @param {File[]} files
 * @param {(share: number) => void} onProgress
 * @returns {Promise<Document>} the page that answers
 */
function send(files, onProgress) {
  return new Promise((resolve, reject) => {
    const data = new FormData();
    for (const file of files) data.append('files', file, file.name);
    const request = new XMLHttpRequest();
    request.open('POST', form?.action ?? '');
    request.setRequestHeader('accept', 'text/html');
    request.upload.addEventListener('progress', ({ loaded, total }) =>
      onProgress(total > 0 ? loaded / total : 0),
    );
    request.addEventListener('load', () =>
      resolve(new DOMParser().parseFromString(request.responseText, 'text/html')),
    );
    request.addEventListener('error', () => reject(new Error('the service does not answer')));
    request.send(data);
  });
}

/** @param {string} name @param {string} text */
function refused(name, text) {
  const item = document.createElement('li');
  item.className = 'refused';
  const strong = document.createElement('strong');
  strong.textContent = name;
  item.append(strong, `: not stored: ${text}`);
  return item;
}

/** How often it is said how far it has come, at most: what is said is read out, and holds up a reader (design). */
const STEPS = 4;

const KINDS = ['refused', 'todo', 'done'];

/** What needs doing first, as the page itself orders them. */
function inOrder() {
  for (const kind of KINDS) results?.append(...results.querySelectorAll(`:scope > .${kind}`));
}

/** How many of each, and what to do: as the page says it of files that came together. */
function summary() {
  const count = (/** @type {string} */ kind) => results?.querySelectorAll(`:scope > .${kind}`).length ?? 0;
  const [refused = 0, todo = 0, done = 0] = KINDS.map(count);
  return [
    refused === 0 ? '' : `${refused} not stored: mend and send ${refused === 1 ? 'it' : 'them'} again.`,
    todo === 0 ? '' : `${todo} stored with something to state or check.`,
    done === 0 ? '' : `${done} stored with nothing left to do.`,
  ]
    .filter((text) => text !== '')
    .join(' ');
}

/** @param {File[]} files */
async function sendAll(files) {
  if (bar === null || said === null || results === null || files.length === 0) return;
  const all = groups(files);
  results.replaceChildren();
  bar.hidden = false;
  let done = 0;
  said.textContent = `Sending ${all.length === 1 ? all[0]?.[0]?.name : `${all.length} routes`} …`;
  for (const group of all) {
    const name = group[0]?.name ?? '';
    try {
      const page = await send(group, (share) => {
        bar.value = (done + share * 0.9) / all.length;
      });
      const items = page.querySelectorAll('#results li');
      const why = page.querySelector('main .lead')?.textContent ?? 'the service refused it';
      results.append(...(items.length > 0 ? items : [refused(name, why)]));
      const list = page.getElementById('list');
      if (items.length > 0 && list !== null) document.getElementById('list')?.replaceWith(list);
      // Where the service has routes by now the page that answers offers no invented ones.
      if (items.length > 0 && page.getElementById('no-files') === null)
        document.getElementById('no-files')?.remove();
    } catch (error) {
      results.append(refused(name, error instanceof Error ? error.message : 'it could not be sent'));
    }
    done += 1;
    bar.value = done / all.length;
    const step = (/** @type {number} */ of) => Math.floor((of / all.length) * STEPS);
    if (done < all.length && step(done) > step(done - 1)) said.textContent = `${done} of ${all.length} sent`;
  }
  inOrder();
  const sum = document.getElementById('summary');
  if (sum !== null) {
    sum.hidden = false;
    sum.textContent = summary();
  }
  const bad = results.querySelectorAll('.refused').length;
  said.textContent = bad === 0 ? `${all.length} sent.` : `${all.length} sent, ${bad} of them not stored.`;
  bar.hidden = true;
  form?.reset();
}

if (form !== null && input !== null && drop !== null) {
  const hint = document.getElementById('drop-hint');
  if (hint !== null) hint.hidden = false;
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    sendAll([...(input.files ?? [])]);
  });
  drop.addEventListener('dragover', (event) => {
    event.preventDefault();
    drop.classList.add('over');
  });
  drop.addEventListener('dragleave', () => drop.classList.remove('over'));
  drop.addEventListener('drop', (event) => {
    event.preventDefault();
    drop.classList.remove('over');
    sendAll([...(event.dataTransfer?.files ?? [])]);
  });
}
