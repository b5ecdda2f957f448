// Lets a run sheet load again while the network is away. It serves nothing but the sheet's own page and its assets;
// the page keeps them fresh, and takes this worker away when the run is over.
const sheet = new URL(self.registration.scope).pathname;
const patience = 4000;

self.addEventListener('install', event => event.waitUntil(self.skipWaiting()));
self.addEventListener('activate', event => event.waitUntil(self.clients.claim()));

self.addEventListener('fetch', event => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && address.pathname === sheet) event.respondWith(page(request));
  else if (address.pathname.startsWith('/assets/')) event.respondWith(asset(request));
});

async function page(request) {
  const kept = await caches.match(sheet);
  try {
    // a network that hangs is no better than none, once the page is kept
    const answer = await (kept ? Promise.race([fetch(request), new Promise((_, no) => setTimeout(no, patience))]) : fetch(request));
    // this device was sent away: nothing of the run stays on it
    if (answer.status === 401) await (await caches.open('knownwater-run')).delete(sheet);
    return answer;
  } catch (away) {
    if (kept) return kept;
    throw away;
  }
}

async function asset(request) {
  return await caches.match(request) ?? fetch(request);
}
