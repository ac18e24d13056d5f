// Works without a network after the first visit: everything that the page asks of its own address is kept, and what is
// kept is shown first. A new version takes over when all its files are there.
const KEPT = 'glidewright-__VERSION__';
const FILES = ['./', './index.html', './manifest.webmanifest', './icon.svg', './glidewright.mjs', './glidewright.wasm'];

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(KEPT)
      .then((cache) => cache.addAll(FILES))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name !== KEPT).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  // The records are never kept here: they may be another person's, or older than what is true.
  if (url.pathname.includes('/api/')) return;
  event.respondWith(
    caches.match(event.request, { ignoreSearch: true }).then(
      (kept) =>
        kept ??
        fetch(event.request).then((answer) => {
          if (answer.ok) {
            const copy = answer.clone();
            caches.open(KEPT).then((cache) => cache.put(event.request, copy));
          }
          return answer;
        }),
    ),
  );
});
