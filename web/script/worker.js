// The worker: pages seen or named in KEPT open without signal, as they were; home
// is asked first. Only its own caches are deleted.
const CACHE = "evenstead-" + KEPT.version;
const CSS = "evenstead-files";

async function put(request, answer) {
  const copy = answer.clone(), headers = new Headers(copy.headers);
  headers.set("X-Kept", Date.now());
  const c = await caches.open(CACHE);
  await c.put(request, new Response(await copy.blob(), { status: 200, headers }));
  const keys = await c.keys();
  for (const k of keys.slice(0, Math.max(0, keys.length - 80))) if (!KEPT.warm.includes(new URL(k.url).pathname)) await c.delete(k);
}

// warm fetches the pages that must open, and the beds and lots that they name. It
// tells whether home was in reach to the end.
async function warm() {
  const deep = new Set();
  for (const way of KEPT.warm) {
    try {
      const r = await ask(way, 20000, { redirect: "follow" });
      if (!r.ok || r.redirected) continue;
      for (const m of (await r.clone().text()).matchAll(/href="(\/(?:bed|lot|drum)\/[^"#?]+)"/g)) deep.add(m[1]);
      await put(way, r);
    } catch (e) { return false; }
  }
  for (const way of [...deep].slice(0, 40)) {
    try {
      const r = await ask(way, 20000, { redirect: "follow" });
      if (r.ok && !r.redirected) await put(way, r);
    } catch (e) { return false; }
  }
  return true;
}

// old is a page as it was kept, which says so.
async function old(request) {
  const any = { ignoreVary: true }, path = new URL(request.url).pathname;
  const had = await caches.match(request.url, any) || await caches.match(path, { ...any, ignoreSearch: true });
  const page = had || await caches.match("/outbox", any);
  if (!page) return Response.error();
  const when = new Date(+page.headers.get("X-Kept")).toLocaleString(KEPT.lang, { dateStyle: "medium", timeStyle: "short" });
  const said = had ? KEPT.stale.replace("{when}", when) : KEPT.missing;
  const text = (await page.text()).replace(/(<main [^>]*>)/, '$1<p class="stale" role="status">' + said + "</p>");
  return new Response(text, { status: 200, headers: page.headers });
}

async function navigate(e) {
  try {
    const stop = new AbortController();
    const end = setTimeout(() => stop.abort(), 6000);
    const r = await fetch(e.request, { signal: stop.signal }).finally(() => clearTimeout(end));
    if (r.ok && r.type === "basic" && /html/.test(r.headers.get("Content-Type"))) e.waitUntil(put(e.request.url, r.clone()));
    return r;
  } catch (err) {
    return old(e.request);
  }
}

async function file(request) {
  const c = await caches.open(CSS), had = await c.match(request);
  if (had) return had;
  const r = await fetch(request);
  if (r.ok) await c.put(request, r.clone());
  return r;
}

addEventListener("install", e => e.waitUntil((async () => {
  await (await caches.open(CSS)).addAll(KEPT.files);
  await skipWaiting();
})()));

addEventListener("activate", e => e.waitUntil((async () => {
  await clients.claim();
  if (!await warm()) return;
  for (const k of await caches.keys()) if (k.startsWith("evenstead-") && k !== CACHE && k !== CSS) await caches.delete(k);
  const c = await caches.open(CSS);
  for (const k of await c.keys()) if (!KEPT.files.includes(new URL(k.url).pathname)) await c.delete(k);
})()));

let warmed = Date.now();
addEventListener("fetch", e => {
  const u = new URL(e.request.url);
  if (u.origin !== location.origin || e.request.method !== "GET") return;
  if (u.pathname.startsWith("/static/")) e.respondWith(file(e.request));
  else if (e.request.mode === "navigate" && !/\.(csv|jsonl|crt|ics)$/.test(u.pathname)) {
    e.respondWith(navigate(e));
    if (Date.now() - warmed > 3600000) {
      warmed = Date.now();
      e.waitUntil(warm());
    }
  }
});

addEventListener("sync", e => {
  if (e.tag === "outbox") e.waitUntil(send().then(async () => {
    for (const c of await clients.matchAll()) c.postMessage("sent");
  }));
});
