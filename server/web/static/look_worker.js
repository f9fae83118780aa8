// Shows a mentor the job as it was last seen when there is no signal. What it
// answers with was kept by look.js; with a signal it stands aside.
'use strict';

const patience = 8000; // ms until a slow network counts as none

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));
self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  const job = url.pathname.match(/^\/look\/job\/[^/]+/)?.[0];
  if (request.mode === 'navigate' && job) event.respondWith(answer(request, job, url.pathname));
  else if (!job && request.mode !== 'navigate') event.respondWith(fileOf(request, url.pathname));
});

// answer prefers the network. A picture that was looked at is kept with the job.
async function answer(request, job, path) {
  try {
    const reply = await Promise.race([fetch(request), tooLate()]);
    if (reply.status >= 500) return (await kept(job, path)) ?? reply;
    if (reply.ok && reply.headers.get('Content-Type')?.startsWith('image/')) {
      await (await caches.open(`mentor-${job}`)).put(path, reply.clone()).catch(() => {}); // no room: not kept
    }
    return reply;
  } catch (error) {
    const reply = await kept(job, path);
    if (reply) return reply;
    throw error;
  }
}

const tooLate = () => new Promise((_, no) => setTimeout(() => no(new Error('no answer')), patience));

// kept finds what stands for a path, until the link ends.
async function kept(job, path) {
  const cache = await caches.open(`mentor-${job}`);
  const page = await cache.match(job);
  if (!page || Number(page.headers.get('Link-Ends')) < Date.now()) {
    await caches.delete(`mentor-${job}`);
    return undefined;
  }
  return cache.match(path);
}

async function fileOf(request, path) {
  try {
    return await fetch(request);
  } catch (error) {
    const reply = await caches.match(path);
    if (reply) return reply;
    throw error;
  }
}
