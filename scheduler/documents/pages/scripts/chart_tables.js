// What the chart shows, as tables of the same stretch of time.

const byStart = (a, b) => a[0] - b[0];

function workTable(rows, view) {
  const found = works.flatMap((work) => inSight(work, view.from, view.to).flatMap((span) => {
    const cells = [starts(span), ends(span), `${text(work.letter)} · ${text(work.step)}`, unitLink(units[work.unit])];
    if (rows === "bays") return [[work.row, text(work.place), ...cells]];
    return work.people.map(([person]) => [person, text(plan.people[person]), ...cells]);
  }));
  const first = rows === "bays" ? "bay" : "person";
  return table(`Work by ${first}, ${view.label}`, [first, "from", "to", "step", "unit"], found.sort(byStart).map((row) => row.slice(1)));
}

// Strips say their times last; a strip of a unit leads to the unit.
function stripTable(caption, strips, labels, view) {
  const rows = strips.filter(([, , start, length]) => touches(start, length, view.from, view.to)).map(([, row, start, length, , says, unit]) => [
    labels[row].replace("\n", " "), moment(start), moment(start + length), unit === null ? says.slice(0, -1).map(text).filter(Boolean).join(", ") : unitLink(units[unit])]);
  return table(`${caption}, ${view.label}`, ["where", "from", "to", "what"], rows);
}
const stays = () => plan.strips.filter(([kind]) => kind === "stay");
const closures = () => plan.strips.filter(([kind]) => kind !== "stay");

// The most in use within an hour and the least there is.
function extreme([minutes, values], from, choose) {
  const before = minutes.findLastIndex((minute) => minute <= from);
  const inside = values.filter((_, i) => minutes[i] > from && minutes[i] < from + HOUR);
  return choose(before < 0 ? 0 : values[before], ...inside);
}

function loadTable(view) {
  const rows = [];
  for (let hour = Math.floor(view.from / HOUR) * HOUR; hour < view.to; hour += HOUR) {
    const cells = plan.loads.map((load) => [extreme(load.used, hour, Math.max), extreme(load.there, hour, Math.min)]);
    if (cells.some(([used]) => used)) rows.push([moment(hour), ...cells.map(([used, there]) => `${used} of ${there}`)]);
  }
  const heads = plan.loads.map((load) => load.name + (load.unit ? `, ${load.unit}` : ""));
  return table(`Load by the hour, ${view.label}: most in use of the least that is there`, ["hour from", ...heads], rows);
}
