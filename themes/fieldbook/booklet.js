// Puts the reader's own month first on the opening page and draws a line for
// today on the year, keeps the ticks of the check lists on this device, and lets
// the year be narrowed. The pages say the same without it. It asks nothing of
// any server.
(() => {
  "use strict";
  const today = new Date();
  // Months are counted from the year 0, so that they can be compared.
  const count = (text) => {
    const [year, month] = text.split("-").map(Number);
    return year * 12 + month - 1;
  };
  const now = today.getFullYear() * 12 + today.getMonth();

  const months = [...document.querySelectorAll("details[data-month]")];
  if (months.length > 0) {
    const of = (d) => count(d.dataset.month);
    // Before the booklet begins its first month stays in front; after it has
    // ended the same month of its last year is shown.
    let own = months.find((d) => of(d) === now);
    if (!own && now > of(months.at(-1))) {
      own = months.findLast((d) => of(d) % 12 === now % 12);
    }
    if (own && own !== months[0]) {
      const at = months.indexOf(own);
      months[0].open = false;
      own.open = true;
      // The months go on from here and come round to those before.
      own.parentElement.append(...months.slice(at), ...months.slice(0, at));
    }
    if (own) {
      const now = document.createElement("span");
      now.className = "now";
      now.textContent = "This month";
      own.querySelector("summary").prepend(now);
    }
  }

  // Ticks are kept under the garden, the month and the work. A browser may
  // refuse to store them; then they last as long as the page.
  const garden = document.querySelector("footer .garden")?.textContent ?? "";
  const lists = [...document.querySelectorAll("[data-month]")].filter((l) => l.querySelector(".task input"));
  const store = (act) => {
    try { return act(window.localStorage); } catch { return null; }
  };
  for (const list of lists) {
    const boxes = [...list.querySelectorAll(".task input")];
    const key = (box) => `${garden} ${list.dataset.month} ${box.getAttribute("aria-label")}`;
    for (const box of boxes) {
      box.checked = store((s) => s.getItem(key(box))) === "1";
      box.addEventListener("change", () => {
        store((s) => (box.checked ? s.setItem(key(box), "1") : s.removeItem(key(box))));
      });
    }
    const clear = document.createElement("button");
    clear.type = "button";
    clear.className = "clear";
    clear.textContent = "Clear the ticks";
    clear.addEventListener("click", () => {
      // The second press does it.
      if (clear.dataset.sure) {
        for (const box of boxes) {
          box.checked = false;
          store((s) => s.removeItem(key(box)));
        }
        delete clear.dataset.sure;
        clear.textContent = "Cleared";
      } else {
        clear.dataset.sure = "1";
        clear.textContent = "Press again to clear the ticks of this month";
      }
    });
    list.querySelector(".tasks").after(clear);
  }

  // The year can be narrowed to some beds and kinds of work.
  for (const filter of document.querySelectorAll("form.narrow")) {
    filter.hidden = false;
    const table = document.querySelector("table.chart");
    filter.addEventListener("change", () => {
      const on = (name) => new Set([...filter.querySelectorAll(`input[name=${name}]:checked`)].map((i) => i.value));
      const beds = on("bed"), families = on("family");
      for (const body of table.tBodies) {
        body.hidden = !beds.has(body.dataset.bed);
        for (const row of body.rows) {
          const works = row.dataset.families;
          if (works !== undefined) row.hidden = !works.split(" ").some((f) => families.has(f)) && families.size < 4;
        }
      }
    });
    filter.addEventListener("submit", (event) => event.preventDefault());
  }

  for (const table of document.querySelectorAll("table[data-since]")) {
    const first = count(table.dataset.since);
    const day = (months) => new Date(Math.floor(months / 12), months % 12, 1);
    const from = day(first);
    const at = (today - from) / (day(first + Number(table.dataset.months)) - from);
    if (at < 0 || at >= 1) continue;
    const name = document.createElement("span");
    name.className = "today";
    name.textContent = "today";
    table.querySelector("thead th").append(name);
    for (const picture of table.querySelectorAll("svg[viewBox]")) {
      const { width, height } = picture.viewBox.baseVal;
      const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
      line.setAttribute("class", "today");
      line.setAttribute("d", `M${at * width} ${picture.closest("thead") ? height - 5 : 0}V${height}`);
      picture.append(line);
    }
  }
})();
