// The time axis: hours in which somebody is there have their full width, longer closed times are narrow.

const FOLDED_FROM = 2 * HOUR;
const FOLDED_WIDTH = 75;

// Knots of a map from minutes to places that is straight between them.
function timeScale(from, to, isFolded) {
  const knots = [[from, 0]];
  let [minute, place] = knots[0];
  const reach = (next, width) => { [minute, place] = [next, place + width]; knots.push([minute, place]); };
  plan.closed.filter(([start, length]) => isFolded && length >= FOLDED_FROM && touches(start, length, from, to)).forEach(([start, length]) => {
    const [first, last] = [Math.max(start, from), Math.min(start + length, to)];
    if (first > minute) reach(first, first - minute);
    reach(last, (last - first) * Math.min(1, FOLDED_WIDTH / length));
  });
  if (to > minute) reach(to, to - minute);
  return { from, to, width: place, at: (wanted) => placeOf(knots, wanted) };
}

function placeOf(knots, minute) {
  let [low, high] = [0, knots.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle][0] <= minute) low = middle; else high = middle;
  }
  const [[m0, p0], [m1, p1]] = [knots[low], knots[high]];
  return m1 === m0 ? p0 : p0 + (p1 - p0) * Math.min(1, Math.max(0, (minute - m0) / (m1 - m0)));
}

// Whole hours in which somebody is there, as far apart as their labels need; the first of each day names the day.
function ticks(scale, widthPx) {
  const px = widthPx / scale.width;
  const isOpen = (minute) => !plan.closed.some(([start, length]) => length >= FOLDED_FROM && minute >= start && minute < start + length);
  const found = [];
  for (let day = Math.floor(scale.from / DAY) * DAY; day < scale.to; day += DAY) found.push(...dayTicks(scale, day, px, isOpen));
  const shown = found.filter((tick) => tick.minute >= scale.from && tick.minute <= scale.to);
  return shown.filter((tick, i) => !shown[i + 1] || tick.isDay || (scale.at(shown[i + 1].minute) - scale.at(tick.minute)) * px >= roomFor(shown[i + 1]));
}
const roomFor = (next) => (next.isDay ? (DAY_LABEL_PX + LABEL_PX) / 2 : LABEL_PX - 6);

const HOUR_STEPS = [1, 2, 3, 4, 6, 12, 24];
const LABEL_PX = 44;
const DAY_LABEL_PX = 74;

function dayTicks(scale, day, px, isOpen) {
  const hours = [...Array(24).keys()].map((hour) => day + hour * HOUR).filter(isOpen);
  if (!hours.length) return [];
  const step = HOUR_STEPS.find((hour) => hour * HOUR * px >= LABEL_PX) || 24;
  const kept = hours.filter((minute) => (minute - hours[0]) % (step * HOUR) === 0);
  const dayPx = (scale.at(day + DAY) - scale.at(day)) * px;
  const every = Math.max(1, Math.ceil(DAY_LABEL_PX / Math.max(1, dayPx)));
  const isNamed = Math.round(day / DAY) % every === 0;
  return kept.map((minute, i) => {
    const named = i === 0 && isNamed;
    const hour = step < 24 ? clock(minute) : "";
    return { minute, isDay: named, label: named ? [hour, dayText(minute)].filter(Boolean).join("<br>") : hour };
  });
}
