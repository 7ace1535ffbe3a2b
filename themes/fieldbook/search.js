// Looks for words in the constant of search-data.js. One letter may be wrong in
// a longer word. Results are built from text, never from markup.
(() => {
  "use strict";
  const form = document.querySelector("form.find");
  const words = bookletWords; // of booklet.js, which every page loads first
  const plurals = new Intl.PluralRules(document.documentElement.lang || "en");
  if (!form || typeof sections === "undefined") return;
  const input = form.querySelector("input");
  const list = document.getElementById("results");
  const count = document.getElementById("count");
  form.hidden = false;

  const fold = (text) => text.normalize("NFD").replace(/\p{Mn}/gu, "").toLowerCase();
  const split = (text) => fold(text).split(/[^\p{L}\p{Nd}]+/u).filter((w) => w.length > 1 || /\d/.test(w));
  const index = sections.map((s) => ({ s, names: s.n.split(" "), words: s.w.split(" ") }));

  // Is b within one letter added, dropped, changed or swapped of a?
  const near = (a, b) => {
    if (Math.abs(a.length - b.length) > 1) return false;
    let i = 0;
    while (i < a.length && a[i] === b[i]) i++;
    const rest = (x, y) => a.slice(i + x) === b.slice(i + y);
    return rest(1, 1) || rest(1, 0) || rest(0, 1) || (a[i] === b[i + 1] && a[i + 1] === b[i] && rest(2, 2));
  };
  const best = (word, among, whole, start, close) => {
    let score = 0;
    for (const w of among) {
      if (w === word) return whole;
      if (w.startsWith(word)) score = Math.max(score, start);
      else if (word.length > 3 && near(word, w)) score = Math.max(score, close);
    }
    return score;
  };

  const show = () => {
    const asked = split(input.value);
    const hits = [];
    if (asked.length > 0) {
      for (const { s, names, words } of index) {
        let sum = 0;
        const all = asked.every((word) => {
          const score = Math.max(best(word, names, 12, 9, 6), best(word, words, 3, 2, 1));
          sum += score;
          return score > 0;
        });
        if (all) hits.push({ s, sum: sum + (s.p ? 0.5 : 0) });
      }
    }
    hits.sort((a, b) => b.sum - a.sum);
    list.replaceChildren(...hits.map(({ s }) => {
      const item = document.createElement("li");
      const link = document.createElement("a");
      link.href = s.h;
      link.textContent = s.t;
      const about = document.createElement("span");
      about.className = "about";
      about.textContent = s.a;
      item.append(link, " ", about);
      return item;
    }));
    count.textContent = asked.length === 0 ? "" : hits.length === 0 ? words.nothing : (words.found[plurals.select(hits.length)] ?? words.found.other ?? words.found).replaceAll("{n}", hits.length);
  };
  input.addEventListener("input", show);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    list.querySelector("a")?.focus();
  });
  // What was looked for stays in the address, so that the way back leads to it
  // and a search can be linked to: search.html#comb
  input.addEventListener("change", () => history.replaceState(null, "", "#" + encodeURIComponent(input.value)));
  try { input.value = decodeURIComponent(location.hash.slice(1)); } catch { /* not written by this page */ }
  show();
  input.focus();
})();
