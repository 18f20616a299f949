// All units, to find one by its name, its order or its customer.

function unitRow(unit) {
  const [order, customer] = unit.order.map((place, i) => (i < 2 ? text(place) : ""));
  const first = unit.works[0].spans[0];
  const last = unit.works[unit.works.length - 1].spans.at(-1);
  const row = [unitLink(unit), `${order}, ${customer}`, starts(first), moment(last[0] + last[1])];
  return { row, words: `${unit.name} ${order} ${customer}`.toLowerCase() };
}

function fillUnits() {
  const made = table("Units in the order in which work on them begins", ["unit", "order", "first step", "last step ends"], units.map((unit) => unitRow(unit).row));
  const words = units.map((unit) => unitRow(unit).words);
  const field = element("input", { type: "search", id: "find-unit", autocomplete: "off" });
  const count = element("p", { role: "status", class: "quiet" }, `${units.length} units`);
  field.addEventListener("input", () => {
    const wanted = field.value.trim().toLowerCase();
    const rows = [...made.tBodies[0].rows];
    rows.forEach((row, i) => { row.hidden = !words[i].includes(wanted); });
    count.textContent = `${rows.filter((row) => !row.hidden).length} of ${units.length} units`;
  });
  const label = element("label", { for: "find-unit" }, "Find a unit, order or customer ");
  document.getElementById("unit-list").replaceChildren(element("p", {}, label, field), count, made);
}
