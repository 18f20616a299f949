// The plan as it stands in the page: texts once, times in minutes on the clock of the site.

const plan = JSON.parse(document.getElementById("plan-data").textContent);
const progress = JSON.parse(document.getElementById("progress-data").textContent);
const text = (place) => plan.text[place];
const HOUR = 60;
const DAY = 24 * HOUR;
const FIELDS = ["unit", "kind", "letter", "step", "row", "place", "spans", "people", "amounts", "product", "tools", "reason",
  "flags", "measure", "cartridges", "measured"];
const works = plan.work.map((row) => Object.fromEntries(FIELDS.map((name, i) => [name, row[i]])));
const units = plan.units.map(([id, name, order, size]) => ({ id, name: text(name), order: plan.orders[order], size: text(size), works: [] }));
works.forEach((work) => units[work.unit].works.push(work));
const isDone = (work) => (work.flags & 1) > 0;
const crew = (work) => work.people.map(([person, skill]) => text(plan.people[person]) + (text(skill) ? ` (${text(skill)})` : "")).join(", ");
const isTypical = (work) => (work.flags & 2) > 0;

const two = (number) => String(number).padStart(2, "0");
const DAYS = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const clock = (minute) => `${two(Math.floor(minute / HOUR) % 24)}:${two(minute % HOUR)}`;
function dayText(minute) {
  const day = new Date(plan.origin_ms + minute * 60000);
  return `${DAYS[day.getUTCDay()]} ${day.getUTCDate()} ${MONTHS[day.getUTCMonth()]}`;
}
const moment = (minute) => `${dayText(minute)} ${clock(minute)}`;

// A span is [start, length] or, where the clock changes, [start, length, flags, minutes that pass].
const secondRound = (span, flag) => (span[2] & flag ? " (2nd)" : "");
const starts = (span) => moment(span[0]) + secondRound(span, 1);
function ends(span) {
  const end = span[0] + span[1];
  const sameDay = Math.floor(span[0] / DAY) === Math.floor(end / DAY);
  return (sameDay ? clock(end) : moment(end)) + secondRound(span, 2);
}
function duration(span) {
  const minutes = span[3] || span[1];
  const parts = [[Math.floor(minutes / HOUR), "h"], [minutes % HOUR, "min"]].filter(([count]) => count);
  return parts.map(([count, unit]) => `${count} ${unit}`).join(" ") || "0 min";
}
const touches = (start, length, from, to) => start < to && start + length > from;
const inSight = (work, from, to) => work.spans.filter((span) => touches(span[0], span[1], from, to));

// The minute that the clock of the site shows now; the page may be read in another zone.
function nowMinute() {
  const wanted = { timeZone: plan.zone, hourCycle: "h23", year: "numeric", month: "numeric", day: "numeric", hour: "numeric", minute: "numeric" };
  const parts = Object.fromEntries(new Intl.DateTimeFormat("en-US", wanted).formatToParts(new Date()).map((p) => [p.type, Number(p.value)]));
  return Math.floor((Date.UTC(parts.year, parts.month - 1, parts.day, parts.hour, parts.minute) - plan.origin_ms) / 60000);
}
