// The outbox: forms that wait on this device until home has taken them in. Each
// carries an id made here (RFC 9562, version 7), by which home knows it again.
"use strict";

const box = act => new Promise((done, fail) => {
  const open = indexedDB.open("evenstead", 1);
  open.onupgradeneeded = () => open.result.createObjectStore("outbox", { keyPath: "id" });
  open.onerror = () => fail(open.error);
  open.onsuccess = () => {
    const db = open.result, t = db.transaction("outbox", "readwrite", { durability: "strict" });
    const r = act(t.objectStore("outbox"));
    t.oncomplete = () => { db.close(); done(r.result); };
    t.onabort = () => { db.close(); fail(t.error); };
  };
});
const keep = item => box(s => s.put(item));
const drop = id => box(s => s.delete(id));
const waiting = () => box(s => s.getAll());

function newID() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 5, ms = Math.max(0, Date.now()); i >= 0; i--, ms = Math.floor(ms / 256)) b[i] = ms % 256;
  b[6] = b[6] & 15 | 112;
  b[8] = b[8] & 63 | 128;
  return Array.from(b, x => x.toString(16).padStart(2, "0")).join("").replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}

// ask is fetch that gives up after so many ms.
function ask(way, ms, init) {
  const stop = new AbortController();
  const end = setTimeout(() => stop.abort(), ms);
  return fetch(way, { credentials: "same-origin", cache: "no-store", redirect: "error", signal: stop.signal, ...init }).finally(() => clearTimeout(end));
}

// post sends some items and returns what home says of each, and of the clock.
async function post(items, live) {
  const body = JSON.stringify({ now: Date.now(), live, items: items.map(({ id, at, way, fields }) => ({ id, at, way, fields })) });
  const r = await ask("/outbox", live ? 8000 : 30000, { method: "POST", headers: { "Content-Type": "application/json" }, body });
  if (!r.ok) throw Object.assign(new Error(r.statusText), { status: r.status });
  return r.json();
}

// settle does with an item what home said of it.
async function settle(item, told) {
  if (told.state === "refused") return keep({ ...item, bad: told.said });
  if (item.photo && told.state !== "mend") {
    const r = await ask("/outbox/photo/" + item.id, 60000, { method: "POST", headers: { "Content-Type": item.photo.type || "image/jpeg" }, body: item.photo });
    if (r.status === 422) return keep({ ...item, bad: (await r.json()).error });
    if (!r.ok) throw new Error(r.statusText);
  }
  return drop(item.id);
}

// some sends some items; one that home can't read is set aside, so that it holds up no other.
async function some(items) {
  try {
    const told = await post(items, false);
    for (const t of told.items) await settle(items.find(i => i.id === t.id), t);
    return told.clock;
  } catch (e) {
    if (![400, 413, 422].includes(e.status)) throw e;
    if (items.length === 1) return keep({ ...items[0], bad: e.message || String(e.status) });
    for (const i of items) await some([i]);
  }
}

// send sends all that waits, the oldest first, and returns what home says of the clock.
async function send() {
  const list = (await waiting()).filter(i => !i.bad);
  let clock = "";
  for (let at = 0; at < list.length; at += 50) clock = await some(list.slice(at, at + 50)) || clock;
  return typeof clock === "string" ? clock : "";
}
