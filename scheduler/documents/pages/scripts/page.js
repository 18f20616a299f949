// Lets people choose what the chart shows, and wires everything together.

const chartBox = document.getElementById("plan-chart");
const state = { rows: "bays", view: null, isFolded: true };
const { weeks, days } = plan.views;
const wholePlan = weeks.length > 1 ? { label: "whole plan", from: weeks[0].from, to: weeks[weeks.length - 1].to } : null;
const views = [...weeks, ...days, ...(wholePlan && countBars("crew", wholePlan) <= plan.most.bars ? [wholePlan] : [])];

const chartTables = [
  foldedPart("work-table", "Work in the chart, as a table", () => [workTable(state.rows, state.view)]),
  foldedPart("stay-table", "Units in the bays, as a table", () => [stripTable("Units in the bays", stays(), plan.rows.bays, state.view)]),
  foldedPart("load-table", "Load by the hour, as a table", () => [loadTable(state.view)]),
  foldedPart("shut-table", "Closed for weather, shut or away, as a table", () => [
    stripTable("Bays closed for spraying or shut", closures(), plan.rows.bays, state.view),
    stripTable("People away", plan.away, plan.rows.crew, state.view)]),
];

function redraw() {
  if (!state.view) return;
  draw(chartBox, state.view, state.rows, state.isFolded);
  const bars = countBars(state.rows, state.view);
  const said = `Chart of ${state.rows === "bays" ? "bays" : "people"} and loads, ${state.view.label}: ${bars} bars. The tables below say the same.`;
  chartBox.setAttribute("aria-label", said);
  document.getElementById("chart-says").textContent = said;
  chartTables.forEach((part) => part.redo());
}

const viewBox = document.getElementById("views");
const choice = element("select", { id: "stretch" });
const button = (words, act) => {
  const made = element("button", { type: "button" }, words);
  made.addEventListener("click", act);
  return made;
};
const [before, after] = [button("Earlier", () => step(-1)), button("Later", () => step(1))];

function show(view) {
  state.view = view;
  choice.value = String(views.indexOf(view));
  const list = siblings(view);
  before.disabled = list.indexOf(view) <= 0;
  after.disabled = list.indexOf(view) >= list.length - 1;
  redraw();
}
const siblings = (view) => [weeks, days].find((list) => list.includes(view)) || [view];
const step = (by) => show(siblings(state.view)[siblings(state.view).indexOf(state.view) + by]);

// The week or, where days are shown, the day of a moment; the next one that has work if there is none.
const viewAt = (list, minute) => list.find((view) => view.to > minute) || list[list.length - 1];
const isNowInPlan = () => weeks.length > 0 && nowMinute() >= weeks[0].from && nowMinute() < weeks[weeks.length - 1].to;
// Where the clock is not in the plan, what is history lies before the moment from which it was planned.
const today = () => (isNowInPlan() ? nowMinute() : plan.begins);
function goToday() {
  const list = days.includes(state.view) ? days : weeks;
  show(viewAt(list, today()));
}

function group(label, list) {
  return element("optgroup", { label }, ...list.map((view) => element("option", { value: views.indexOf(view) }, view.label)));
}

function fillControls() {
  choice.append(group("A week", weeks), group("A day", days), ...(views.includes(wholePlan) ? [group("All", [wholePlan])] : []));
  choice.addEventListener("change", () => show(views[choice.value]));
  const rowButtons = [["bays", "By bay"], ["crew", "By person"]].map(([rows, words]) => button(words, () => { state.rows = rows; press(); redraw(); }));
  const press = () => rowButtons.forEach((made, i) => made.setAttribute("aria-pressed", String((i === 0) === (state.rows === "bays"))));
  press();
  const folded = element("input", { type: "checkbox", id: "folded", checked: "" });
  folded.addEventListener("change", () => { state.isFolded = folded.checked; redraw(); });
  viewBox.append(element("span", { class: "pairs", role: "group", "aria-label": "Rows of the chart" }, ...rowButtons),
    before, element("label", { for: "stretch", class: "gone" }, "Stretch of time"), choice, after,
    button(isNowInPlan() ? "Today" : "Start of the plan", goToday), element("label", { class: "check" }, folded, " narrow nights"));
}

function drawProgress(width) {
  const box = document.getElementById("progress-chart");
  if (progress) Plotly.react(box, progress.data, { ...progress.layout, width: width || box.parentElement.clientWidth }, SETTINGS);
}

// Paper has its own width; what was on the screen comes back afterwards.
const PAPER_PX = 690;
const drawAll = (width) => {
  if (state.view) draw(chartBox, state.view, state.rows, state.isFolded, width);
  drawProgress(width);
};
window.addEventListener("beforeprint", () => drawAll(PAPER_PX));
window.addEventListener("afterprint", () => { redraw(); drawProgress(); });
let drawnWidth = window.innerWidth;
window.addEventListener("resize", () => { if (window.innerWidth !== drawnWidth) { drawnWidth = window.innerWidth; redraw(); } });

document.getElementById("chart-tables").append(...chartTables.map(({ part }) => part));
fillDays();
fillUnits();
if (views.length) {
  fillControls();
  show(viewAt(isPhone() ? days : weeks, today()));
  chartBox.on("plotly_click", ({ points }) => {
    const unit = points[0] && points[0].customdata;
    if (unit !== null && unit !== undefined) window.location.hash = unitHash(units[unit]);
  });
}
drawProgress();
showUnit();
