// On a page: forms marked data-wait go through the outbox. "now": kept first, then
// sent. "ask": sent as forms are while home answers, else kept. Without this script
// they are ordinary forms.
(() => {
  const bar = document.getElementById("waits");
  if (!bar || !window.indexedDB || !window.fetch) return;
  const say = bar.dataset, words = bar.firstElementChild;
  let busy = false;

  async function show(more) {
    const n = (await waiting()).length;
    words.textContent = [n ? (n === 1 ? say.one : say.many.replace("{n}", n)) : "", more].filter(Boolean).join(" ");
    bar.hidden = !words.textContent;
    bar.classList.toggle("some", n > 0);
    document.dispatchEvent(new Event("waits"));
    return n;
  }

  // warn puts what concerns the phone itself at the head of the page.
  function warn(text) {
    const main = document.querySelector("main"), had = main.querySelector(".stale.own");
    if (!text || had) return;
    const p = document.createElement("p");
    p.className = "stale own";
    p.setAttribute("role", "status");
    p.textContent = text;
    main.prepend(p);
  }

  async function drain() {
    if (busy) return;
    busy = true;
    let more = "";
    try {
      const had = (await waiting()).length;
      const clock = await send();
      if (had) more = say.sent;
      warn(clock);
    } catch (e) {
      if (e.status === 401 || e.status === 403) warn(say.unpaired);
    } finally {
      busy = false;
      show(more);
    }
  }

  // shrink draws a photo with no side over 1600 px.
  async function shrink(file) {
    try {
      const img = await createImageBitmap(file), by = Math.min(1, 1600 / Math.max(img.width, img.height));
      const c = document.createElement("canvas");
      c.width = Math.max(1, Math.round(img.width * by));
      c.height = Math.max(1, Math.round(img.height * by));
      c.getContext("2d").drawImage(img, 0, 0, c.width, c.height);
      return await new Promise(done => c.toBlob(done, "image/jpeg", 0.8));
    } catch (e) {
      return file; // home says whether it can be kept
    }
  }

  async function itemOf(form, button) {
    const item = { id: newID(), at: Date.now(), way: form.getAttribute("action"), fields: {} };
    for (const [name, value] of new FormData(form)) {
      if (typeof value === "string") (item.fields[name] = item.fields[name] || []).push(value);
      else if (value.size) item.photo = await shrink(value);
    }
    if (button && button.name) item.fields[button.name] = [button.value];
    if (form.dataset.title) item.fields.title = [form.dataset.title];
    const verb = item.fields.do && item.fields.do[0];
    item.said = verb && verb !== "other" ? document.getElementById("sentence").textContent
      : ["title", "what", "amount", "text"].map(k => item.fields[k] || "").join(" ").trim();
    return item;
  }

  // tell puts a sentence at the head of a form.
  function tell(form, text, kind) {
    form.querySelectorAll(".told").forEach(e => e.remove());
    const p = document.createElement("p");
    p.className = "told " + kind;
    p.setAttribute("role", kind === "wrong" ? "alert" : "status");
    p.textContent = text;
    (form.querySelector(".reach > :first-child") || form.firstElementChild).before(p);
    p.scrollIntoView({ block: "nearest" });
  }

  function clear(form) {
    form.querySelectorAll("textarea, input:not([type=radio], [type=checkbox], [type=hidden])").forEach(e => { e.value = ""; });
    form.dispatchEvent(new Event("input", { bubbles: true }));
  }

  async function kept(form) {
    clear(form);
    tell(form, say.kept, "wrote");
    show();
    try {
      await (await navigator.serviceWorker.ready).sync.register("outbox");
    } catch (e) { /* no such thing here: the page sends */ }
  }

  async function now(form, button) {
    const item = await itemOf(form, button);
    await keep(item);
    show();
    let told;
    try {
      told = await post([item], true);
      await settle(item, told.items[0]);
    } catch (e) {
      return kept(form);
    }
    show();
    warn(told.clock);
    const t = told.items[0];
    if (t.state === "mend" && form.dataset.then) return form.submit(); // home's page says what is wrong, at its field
    if (t.state === "mend" || t.state === "refused") return tell(form, t.said, "wrong");
    if (form.dataset.then) return location.assign(t.then);
    clear(form);
    tell(form, t.said, "wrote");
  }

  async function asks(form, button) {
    try {
      await ask("/outbox/here", 3000);
    } catch (e) {
      await keep(await itemOf(form, button));
      return kept(form);
    }
    if (button && button.name) {
      const h = Object.assign(document.createElement("input"), { type: "hidden", name: button.name, value: button.value });
      form.append(h);
    }
    form.submit();
  }

  document.addEventListener("submit", e => {
    const form = e.target, how = form.dataset.wait;
    if (!how || (e.submitter && e.submitter.formMethod === "get")) return;
    e.preventDefault();
    if (form.dataset.busy) return;
    form.dataset.busy = "1";
    (how === "now" ? now : asks)(form, e.submitter).catch(() => form.submit()).finally(() => { delete form.dataset.busy; });
  });

  // typed is the number in a field; NaN: none, or it can be read two ways.
  const typed = f => {
    const t = f.value.trim();
    if (f.dataset.point === ".") return +t.replace(/,(?=\d{3}(\D|$))/g, "");
    return /^[1-9]\d{0,2}[.,]\d{3}$/.test(t) ? NaN : +t.replace(",", ".");
  };

  // Amounts by tap, and the sentence that fills.
  document.addEventListener("click", e => {
    const b = e.target.closest("button[data-add]");
    if (!b) return;
    const f = document.getElementById(b.dataset.to), sum = Math.round((typed(f) + +b.dataset.add) * 1e4) / 1e4;
    e.preventDefault();
    if (!b.dataset.add) f.value = "";
    else if (!isNaN(sum)) f.value = String(sum).replace(".", f.dataset.point);
    f.dispatchEvent(new Event("input", { bubbles: true }));
  });
  const line = document.getElementById("sentence");
  if (line) {
    const form = document.getElementById("boots");
    const fill = () => {
      const verb = form.querySelector("[name=do]:checked"), part = verb && form.querySelector("#v-" + verb.value);
      if (!part) return;
      const thing = part.querySelector("[type=radio]:checked"), amount = part.querySelector("[data-unit]");
      line.textContent = verb.dataset.say.replace("{amount}", amount && amount.value ? amount.value + " " + amount.dataset.unit : "…")
        .replace("{thing}", thing ? thing.dataset.say : "…").replace(/….$/, "…");
    };
    form.addEventListener("input", fill);
  }

  // What was typed into the note box comes back when a page is lost.
  const text = document.querySelector("form[data-wait=ask] textarea");
  try {
    if (location.pathname.startsWith("/note/")) localStorage.removeItem("typed");
    if (text) {
      if (!text.value.trim()) text.value = localStorage.getItem("typed") || "";
      text.addEventListener("input", () => localStorage.setItem("typed", text.value));
      text.form.addEventListener("input", () => localStorage.setItem("typed", text.value));
    }
  } catch (e) { /* kept nowhere, then */ }

  // A page that waits asks whether what it waits for is there, and says so; it goes
  // nowhere by itself.
  const again = document.getElementById("again"), asking = again && setInterval(async () => {
    try {
      if (document.hidden || (await ask(location.href, 8000, { method: "HEAD" })).headers.get("Evenstead-Waits")) return;
      clearInterval(asking);
      again.firstChild.textContent = again.dataset.ready;
    } catch (e) { /* the next time */ }
  }, again.dataset.every * 1000);

  addEventListener("online", drain);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) drain(); });
  setInterval(async () => { if ((await waiting()).length) drain(); }, 20000);
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register("/sw.js").catch(() => {});
    navigator.serviceWorker.addEventListener("message", () => show(say.sent));
  }
  drain();

  // The page of the outbox lists what waits.
  const list = document.getElementById("waitlist");
  const draw = async () => {
    const all = await waiting();
    list.replaceChildren(...all.map(i => {
      const li = document.createElement("li"), b = document.createElement("button");
      li.textContent = new Date(i.at).toLocaleString() + ": " + i.said + (i.bad ? " (" + i.bad + ")" : "");
      b.textContent = say.drop;
      b.className = "button plain";
      b.onclick = async () => { await drop(i.id); show(); };
      li.append(b);
      return li;
    }));
    document.getElementById("nowait").hidden = all.length > 0;
  };
  if (list) {
    document.addEventListener("waits", draw);
    draw();
  }
})();
