// Keeps the crew's day on the phone: what the house last said is shown where there is no signal.
'use strict';
const KEPT = 'route-1';
const PATIENCE_MS = 6000;

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

function ours(request) {
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return false;
  return url.pathname === '/route/' || url.pathname.startsWith('/static/');
}

async function asked(request) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
  try {
    return await fetch(request, { signal: stop.signal });
  } finally {
    clearTimeout(timer);
  }
}

async function answered(request) {
  const kept = await caches.open(KEPT);
  const key = new URL(request.url);
  key.hash = '';
  try {
    const answer = await asked(request);
    // Whoever is sent to sign in is no longer somebody the day is for.
    if (answer.redirected || answer.type === 'opaqueredirect') await caches.delete(KEPT);
    else if (answer.ok) await kept.put(key.href, answer.clone());
    return answer;
  } catch (error) {
    const stored = await kept.match(key.href);
    if (stored) return stored;
    throw error;
  }
}

self.addEventListener('fetch', (event) => {
  if (ours(event.request)) event.respondWith(answered(event.request));
});
