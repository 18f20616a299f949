// The page of one unit, over the report: its steps with their reasons, its coats and the cartridges that go into them.

const unitBox = document.getElementById("unit");
const unitOf = (hash) => units.find((unit) => hash === unitHash(unit));

function stepRows(unit) {
  return unit.works.map((work) => {
    const marks = [isDone(work) ? "done" : "", isTypical(work) ? "typical weather" : ""].filter(Boolean);
    const last = work.spans[work.spans.length - 1];
    return [
      `${text(work.letter)} · ${text(work.step)}${marks.length ? ` (${marks.join(", ")})` : ""}`, starts(work.spans[0]), moment(last[0] + last[1]),
      text(work.place), work.people.map(([person]) => text(plan.people[person])).join(", "), text(work.amounts), text(work.reason),
    ];
  });
}

function coatRows(unit) {
  return unit.works.filter((work) => work.product).map((work) => [
    text(work.step), text(work.product), text(work.amounts), text(work.measure), ...(work.measured.length ? [work.measured.map(text).join(" · ")] : [])]);
}

function cartridgeRows(unit) {
  return unit.works.flatMap((work) => (work.cartridges || []).map((cells) => [text(cells[0]), text(work.step), ...cells.slice(1).map(text)]));
}

function orderLine(unit) {
  const [order, customer, due, delivered, standing] = unit.order;
  if (delivered === null) return `Order ${text(order)}, ${text(customer)}`;
  return `Order ${text(order)}, ${text(customer)}: delivered ${moment(delivered)}, due ${moment(due)}, ${text(standing)}`;
}

function unitContent(unit) {
  const close = element("button", { type: "button", class: "close" }, "Back to the plan");
  close.addEventListener("click", () => unitBox.close());
  const [coats, cartridges] = [coatRows(unit), cartridgeRows(unit)];
  const heads = ["coat", "product", "how much", "measure before", ...(coats.some((cells) => cells.length > 4) ? ["measured"] : [])];
  return [
    element("div", { class: "bar" }, element("h2", { id: "unit-title", tabindex: "-1" }, unit.name), close),
    element("p", {}, orderLine(unit)), unit.size ? element("p", { class: "quiet" }, unit.size) : "",
    table("Steps", ["step", "from", "to", "bay", "people", "how much", "why"], stepRows(unit)),
    table("Coats", heads, coats),
    cartridges.length ? table("Cartridges and cans", ["pack", "step", ...plan.cartridge_heads], cartridges) : "",
  ];
}

// The address names the unit, so that Back closes its page and a link to it can be kept.
function showUnit() {
  const unit = unitOf(window.location.hash);
  if (!unit) {
    if (unitBox.open) unitBox.close();
    return;
  }
  unitBox.replaceChildren(...unitContent(unit));
  if (!unitBox.open) unitBox.showModal();
  unitBox.scrollTop = 0;
  document.getElementById("unit-title").focus();
}

unitBox.addEventListener("close", () => {
  if (window.location.hash.startsWith("#unit/")) history.replaceState(null, "", window.location.pathname + window.location.search);
});
window.addEventListener("hashchange", showUnit);
