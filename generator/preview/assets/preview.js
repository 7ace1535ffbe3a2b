// Keeps an open page of the preview up to date: hears of each build, puts the
// new page in the place of the old one without loading it anew, and tells what
// kept a build from being made over the page that is shown.
(() => {
  "use strict";
  let shown = Number(document.currentScript.dataset.build);
  const file = (path) => decodeURIComponent(path.slice(1)) || "index.html";
  const here = file(location.pathname);
  const report = location.pathname === "/-/report";

  // Files whose addresses a browser may already have something else for.
  const stale = new Map();
  const fresh = (element, name) => {
    const url = new URL(element.getAttribute(name), location);
    const build = url.origin === location.origin && stale.get(file(url.pathname));
    if (build) element.setAttribute(name, `${url.pathname}?build=${build}`);
    return Boolean(build);
  };

  // A shadow tree keeps the page's style out of the panel and the panel's out
  // of the page; it stands beside the body, which is replaced.
  const host = document.createElement("sheaf-preview");
  const tree = host.attachShadow({ mode: "open" });
  const make = (name, text, ...inside) => {
    const e = document.createElement(name);
    if (text) e.textContent = text;
    e.append(...inside);
    return e;
  };
  const style = make("link");
  style.rel = "stylesheet";
  style.href = "/-/panel.css";
  const place = make("div");
  tree.append(style, place);
  document.documentElement.append(host);

  let hidden = ""; // the faults that the writer has put away
  const tell = (news) => {
    const key = JSON.stringify(news.faults);
    if (news.faults.length === 0 || key !== hidden) hidden = "";
    if (report) return; // it tells all of them itself
    if (news.faults.length === 0 || hidden) {
      const link = make("a", news.faults.length ? "Faults: the page shows an earlier state" : news.found || "Report");
      link.href = "/-/report";
      const tag = make("div", "", link);
      tag.className = "tag";
      return place.replaceChildren(tag);
    }
    const close = make("button", "Put away");
    close.addEventListener("click", () => { hidden = key; tell(news); });
    const head = make("div", "", make("h2", "This page shows an earlier state: a fault keeps the new one from being made"), close);
    head.className = "head";
    const panel = make("section", "", head);
    panel.className = "panel";
    panel.setAttribute("role", "alert");
    for (const f of news.faults) {
      const line = make("p");
      if (f.place) line.append(make("code", f.place), " ");
      line.append(make("strong", `${f.severity}:`), ` ${f.message}`);
      if (f.code) {
        const code = make("span", ` [${f.code}]`);
        code.className = "quiet";
        line.append(code);
      }
      panel.append(line);
      if (f.caret) {
        const source = make("pre", `${f.line}\n${f.caret}`);
        source.tabIndex = 0; // a long line is scrolled by keys too
        panel.append(source);
      }
      for (const hint of f.hints) panel.append(make("p", `Hint: ${hint}`));
    }
    place.replaceChildren(panel);
  };

  // What a reader has opened, chosen or written stays as it was.
  const named = (all, of) => new Map([...all].map((e, i) => [of(e) || i, e]));
  const drawers = (root) => named(root.querySelectorAll("details"), (d) => d.dataset.month || d.id || d.querySelector("summary")?.textContent);
  const inputs = (root) => named(root.querySelectorAll("input[name], input[id]"), (i) => i.id || `${i.name} ${i.value}`);
  const settle = (from, to) => {
    const was = { drawers: drawers(from), inputs: inputs(from) };
    for (const [key, d] of drawers(to)) if (was.drawers.has(key)) d.open = was.drawers.get(key).open;
    for (const [key, i] of inputs(to)) {
      const old = was.inputs.get(key);
      if (!old) continue;
      if (i.type === "checkbox" || i.type === "radio") i.checked = old.checked;
      else i.value = old.value;
    }
  };

  const swap = async (news) => {
    const answer = await fetch(location.pathname, { cache: "no-store" });
    const next = new DOMParser().parseFromString(await answer.text(), "text/html");
    const scroll = [window.scrollX, window.scrollY];
    const focus = document.activeElement?.id;
    for (const img of next.querySelectorAll("img[src]")) fresh(img, "src");
    settle(document.body, next.body);
    document.title = next.title;
    document.documentElement.lang = next.documentElement.lang;
    for (const link of document.querySelectorAll("head link[rel=stylesheet]")) {
      const other = link.cloneNode();
      if (!fresh(other, "href")) continue;
      other.addEventListener("load", () => link.remove()); // until then the page keeps its look
      link.after(other);
    }
    document.body.replaceWith(document.importNode(next.body, true));
    // The booklet's scripts do their work anew on what is new.
    for (const script of document.querySelectorAll("head script[src]")) {
      if (script.src.includes("/-/")) continue;
      const again = document.createElement("script");
      again.src = script.getAttribute("src");
      fresh(again, "src");
      again.async = false;
      script.replaceWith(again);
    }
    if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
    window.scrollTo({ left: scroll[0], top: scroll[1], behavior: "instant" });
  };

  const concerned = (changed) => report || changed.includes(here) || changed.some((name) => {
    const url = new URL(`/${name}`, location).href;
    return [...document.querySelectorAll("head link[rel=stylesheet], head script[src], img[src]")].some((e) => (e.href || e.src).split("?")[0] === url);
  });

  let latest, busy = false;
  const heed = async (news) => {
    latest = news;
    for (const name of news.changed) stale.set(name, news.build);
    tell(news);
    if (busy) return;
    busy = true;
    try {
      const changed = new Set();
      let handled;
      do {
        handled = latest;
        for (const name of handled.changed) changed.add(name);
        if (handled.build > shown && handled.goal && handled.goal !== here && here === "index.html") {
          location.assign(`/${handled.goal}`);
          return;
        }
        if (concerned([...changed])) await swap(handled);
        shown = handled.build;
      } while (handled !== latest);
      document.documentElement.dataset.shown = shown;
    } catch {
      // The server has gone; the page stays.
    } finally {
      busy = false;
    }
  };

  const source = new EventSource(`/-/news?build=${shown}&page=${encodeURIComponent(here)}`);
  source.addEventListener("message", (event) => heed(JSON.parse(event.data)));
  // A server that comes back may be another one, and count anew.
  source.addEventListener("error", () => source.addEventListener("open", () => location.reload(), { once: true }), { once: true });
  window.addEventListener("pagehide", () => source.close());
})();
