// Elements of the page. A text from the shop only ever becomes the text of an element, never markup.

const isPhone = () => window.innerWidth < 704;

function element(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  Object.entries(attributes).forEach(([name, value]) => made.setAttribute(name, value));
  made.append(...children.filter((child) => child !== null && child !== ""));
  return made;
}

const unitHash = (unit) => `#unit/${encodeURIComponent(unit.id)}`;
const unitLink = (unit) => element("a", { href: unitHash(unit) }, unit.name);

// A table whose first column names the row. On a phone each row becomes a block, so the roles are told and each cell
// says under which head it stands.
function table(caption, heads, rows) {
  const cell = (content, i) => (i === 0
    ? element("th", { scope: "row", role: "rowheader" }, content)
    : element("td", { role: "cell", "data-head": heads[i] }, content));
  const head = element("tr", { role: "row" }, ...heads.map((name) => element("th", { scope: "col", role: "columnheader" }, name)));
  const body = rows.map((cells) => element("tr", { role: "row" }, ...cells.map(cell)));
  return element("table", { class: "stack", role: "table" },
    element("caption", {}, caption),
    element("thead", { role: "rowgroup" }, head),
    element("tbody", { role: "rowgroup" }, ...body));
}

// A part that is made when it is first unfolded; `redo` makes it again if it is unfolded.
function foldedPart(id, title, make) {
  const inside = element("div", { class: "inside" });
  const part = element("details", { id }, element("summary", {}, title), inside);
  const fill = () => inside.replaceChildren(...make());
  part.addEventListener("toggle", () => { if (part.open) fill(); });
  return { part, redo: () => { if (part.open) fill(); } };
}
const tag = (words, kind = "") => element("span", { class: `tag ${kind}` }, words);
