// The chart by keyboard: Tab reaches one bar, arrow keys lead from it to its neighbours. Over the bar lies a link to its unit.

const walkBox = document.getElementById("bar-walk");
const walk = { rows: [], boxOf: null, at: [0, 0] };

// Bars of each row from left to right, a unit that stands there before the work on it.
function setWalk(bars, boxOf) {
  const inRows = new Map();
  bars.forEach((bar) => inRows.set(bar.row, inRows.get(bar.row) || []).get(bar.row).push(bar));
  walk.rows = [...inRows.entries()].sort(byStart).map(([, row]) => row.sort((a, b) => a.base - b.base || b.width - a.width));
  Object.assign(walk, { boxOf, at: [0, 0] });
  walkBox.replaceChildren(...(walk.rows.length ? [barMark(walk.rows[0][0])] : []));
}

function barMark(bar) {
  const label = { class: "bar-mark", "aria-label": bar.says().filter(Boolean).join(", ") };
  const isUnit = bar.unit !== undefined && bar.unit !== null;
  const made = isUnit ? element("a", { ...label, href: unitHash(units[bar.unit]) }) : element("span", { ...label, role: "img", tabindex: "0" });
  Object.entries(walk.boxOf(bar)).forEach(([side, px]) => { made.style[side] = `${px}px`; });
  made.addEventListener("focus", () => Plotly.Fx.hover(chartBox, [{ curveNumber: bar.curve, pointNumber: bar.point }], "xy"));
  made.addEventListener("blur", () => Plotly.Fx.unhover(chartBox));
  return made;
}

function goTo(row, place) {
  const bars = walk.rows[row];
  if (!bars) return;
  walk.at = [row, Math.min(Math.max(place, 0), bars.length - 1)];
  walkBox.replaceChildren(barMark(bars[walk.at[1]]));
  walkBox.firstChild.focus();
}

// The bar of another row that lies nearest to the middle of this one.
function nearest(row, bar) {
  const middle = bar.base + bar.width / 2;
  const away = (other) => Math.max(0, other.base - middle, middle - other.base - other.width);
  return (walk.rows[row] || []).reduce((best, other, i, all) => (away(other) < away(all[best]) ? i : best), 0);
}

const MOVES = {
  ArrowRight: ([row, place]) => goTo(row, place + 1),
  ArrowLeft: ([row, place]) => goTo(row, place - 1),
  ArrowDown: ([row, place]) => goTo(row + 1, nearest(row + 1, walk.rows[row][place])),
  ArrowUp: ([row, place]) => goTo(row - 1, nearest(row - 1, walk.rows[row][place])),
  Home: ([row]) => goTo(row, 0),
  End: ([row]) => goTo(row, Infinity),
  PageDown: ([row]) => { if (!after.disabled) step(1); goTo(Math.min(row, walk.rows.length - 1), 0); },
  PageUp: ([row]) => { if (!before.disabled) step(-1); goTo(Math.min(row, walk.rows.length - 1), 0); },
  Escape: () => Plotly.Fx.unhover(chartBox),
};
walkBox.addEventListener("keydown", (event) => {
  const move = MOVES[event.key];
  if (!move || event.ctrlKey || event.altKey || event.metaKey) return;
  event.preventDefault();
  move(walk.at);
});
