// Puts the reader's own month first on the opening page and draws a line for
// today on the year. The pages say the same without it. It stores nothing and
// asks nothing of any server.
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
