// Puts the garden day or the month that is due first on the opening page and draws
// a line for today on the year, keeps the ticks of the check lists on this device,
// and lets the year be narrowed. The pages say the same without it. It asks nothing of
// any server.
(() => {
  "use strict";
  // The words stand before this file, in the language of the booklet.
  const words = bookletWords;
  const plurals = new Intl.PluralRules(document.documentElement.lang || "en");
  const say = (text, places) => Object.entries(places).reduce((said, [place, n]) => said.replaceAll(`{${place}}`, n), text[plurals.select(places.n)] ?? text.other ?? text);
  const today = new Date();
  // Months are counted from the year 0, so that they can be compared.
  const count = (text) => {
    const [year, month] = text.split("-").map(Number);
    return year * 12 + month - 1;
  };
  const now = today.getFullYear() * 12 + today.getMonth();

  // What is opened goes first, then what comes after it, and last what was before.
  const first = (all, own) => {
    const at = all.indexOf(own);
    all[0].open = false;
    own.open = true;
    own.parentElement.append(...all.slice(at), ...all.slice(0, at));
  };
  const name = (own, word) => {
    const now = document.createElement("span");
    now.className = "now";
    now.textContent = word;
    own.querySelector("summary").prepend(now);
  };

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
      first(months, own);
    }
    if (own) name(own, words["this month"]);
  }

  const days = [...document.querySelectorAll("details[data-to]")];
  if (days.length > 0) {
    const two = (n) => String(n).padStart(2, "0");
    const on = (year) => `${year}-${two(today.getMonth() + 1)}-${two(today.getDate())}`;
    const last = days.map((d) => d.dataset.to).sort().at(-1);
    // After the booklet has ended its last year is gone through again.
    let year = today.getFullYear();
    while (on(year) > last) year--;
    const own = days.find((d) => d.dataset.to >= on(year));
    if (own !== days[0]) first(days, own);
    if (year === today.getFullYear()) name(own, own.dataset.from <= on(year) ? words.now : words.next);
  }

  // Ticks are kept under the garden and each task's own name: a task is ticked on
  // the page of its day, its month and its bed alike, and a line when all its tasks
  // are. A browser may refuse to store them; then they last as long as the page.
  const garden = document.querySelector("footer .garden")?.textContent ?? "";
  const store = (act) => {
    try { return act(window.localStorage); } catch { return null; }
  };
  const key = (task) => `${garden} ${task}`;
  const boxes = [...document.querySelectorAll("input[data-tasks]")].map((box) => ({ box, tasks: box.dataset.tasks.split(" ") }));
  const ticked = new Set(boxes.flatMap(({ tasks }) => tasks).filter((task) => store((s) => s.getItem(key(task))) === "1"));
  const show = () => {
    for (const { box, tasks } of boxes) {
      box.checked = tasks.every((task) => ticked.has(task));
      box.indeterminate = !box.checked && tasks.some((task) => ticked.has(task));
    }
  };
  const tick = (tasks, on) => {
    for (const task of tasks) {
      if (on) ticked.add(task); else ticked.delete(task);
      store((s) => (on ? s.setItem(key(task), "1") : s.removeItem(key(task))));
    }
    show();
  };
  show();
  for (const list of document.querySelectorAll(".tasks[data-month], article.day, details[data-to]")) {
    const here = boxes.filter(({ box }) => list.contains(box));
    if (here.length === 0) continue;
    const clear = document.createElement("button");
    const calm = () => {
      delete clear.dataset.sure;
      clear.textContent = words.clear;
    };
    for (const { box, tasks } of here) {
      box.addEventListener("change", () => {
        tick(tasks, box.checked);
        clear.hidden = false;
        calm();
      });
    }
    calm();
    clear.type = "button";
    clear.className = "clear";
    clear.ariaLive = "polite";
    clear.hidden = !list.querySelector(":checked, :indeterminate");
    clear.addEventListener("blur", calm);
    clear.addEventListener("click", () => {
      // The second press does it.
      if (!clear.dataset.sure) {
        clear.dataset.sure = "1";
        clear.textContent = words.sure;
        return;
      }
      for (const { tasks } of here) tick(tasks, false);
      calm();
      clear.textContent = words.cleared;
    });
    ([...list.querySelectorAll(".chores")].at(-1) ?? list).after(clear);
  }

  // The year can be narrowed to some beds and kinds of work.
  for (const filter of document.querySelectorAll("form.narrow")) {
    const table = filter.parentElement.querySelector("table.chart");
    const said = filter.querySelector("[role=status]");
    const narrow = () => {
      const on = (name) => [...filter.querySelectorAll(`[name=${name}]:checked`)].map((i) => i.value);
      const beds = on("bed"), families = on("family");
      let shown = 0, rows = 0;
      for (const i of filter.querySelectorAll("[name=family]")) table.classList.toggle(`no-${i.value}`, !i.checked);
      for (const body of table.tBodies) {
        let here = 0;
        for (const row of body.querySelectorAll("[data-families]")) {
          // Plants without work are shown while nothing is left out.
          row.hidden = families.length < 4 && !row.dataset.families.split(" ").some((f) => families.includes(f));
          here += row.hidden ? 0 : 1;
          rows++;
        }
        body.hidden = here === 0 || !beds.includes(body.dataset.bed);
        shown += body.hidden ? 0 : here;
      }
      said.textContent = shown === rows ? "" : say(words.rows, { n: shown, all: rows });
    };
    filter.addEventListener("change", narrow);
    filter.addEventListener("submit", (event) => event.preventDefault());
    filter.hidden = false;
    narrow(); // a browser may have kept what was chosen
  }

  for (const table of document.querySelectorAll("table[data-since]")) {
    const first = count(table.dataset.since);
    const day = (months) => new Date(Math.floor(months / 12), months % 12, 1);
    const from = day(first);
    const at = (today - from) / (day(first + Number(table.dataset.months)) - from);
    if (at < 0 || at >= 1) continue;
    const name = document.createElement("span");
    name.className = "today";
    name.textContent = words.today;
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
