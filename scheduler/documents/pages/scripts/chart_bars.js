// Bars of the chart: one trace for each mark, none outside of the stretch that is shown.

const INK = "#16242e";
const FAINT = "#7d868d";
const LETTER_PX = 7;
const SHAPES = { weather: [-0.5, 1], shut: [-0.5, 1], stay: [-0.45, 0.4] };
const STEP_SHAPES = { bays: [-0.04, 0.5], crew: [-0.4, 0.8] };
const shapeOf = (kind, rows) => SHAPES[kind] || STEP_SHAPES[rows];
const inert = (words) => words.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");
const lines = (parts) => parts.filter(Boolean).map(inert).join("<br>");

function workSays(work, span) {
  return [
    `${text(work.letter)} · ${text(work.step)}${isDone(work) ? " (done)" : ""}`,
    units[work.unit].name,
    text(work.place),
    `${starts(span)} to ${ends(span)} (${duration(span)})`,
    crew(work),
    [text(work.product), text(work.amounts)].filter(Boolean).join(": "),
    text(work.reason),
    isTypical(work) ? "Rests on the weather of a typical year" : "",
  ];
}

// Rows, texts and what is said, as plain bars; `says` is made into a text only for bars that are drawn.
function barsOf(rows, from, to) {
  const strip = ([kind, row, start, length, words, says, unit]) => ({ kind, row, start, length, words: text(words), says: () => says.map(text), unit });
  const strips = (rows === "bays" ? plan.strips : plan.away).filter(([, , start, length]) => touches(start, length, from, to)).map(strip);
  const steps = works.flatMap((work) => inSight(work, from, to).flatMap((span) => {
    const bar = { kind: work.kind, start: span[0], length: span[1], says: () => workSays(work, span), unit: work.unit };
    if (rows === "bays") return [{ ...bar, row: work.row, words: text(work.letter) }];
    return work.people.filter(([person]) => person < plan.rows.crew.length)
      .map(([person]) => ({ ...bar, row: person, words: `${text(work.letter)} ${units[work.unit].id}` }));
  }));
  return [...strips, ...steps];
}

function placedBars(rows, scale) {
  const bars = barsOf(rows, scale.from, scale.to);
  bars.forEach((bar) => {
    bar.base = scale.at(Math.max(bar.start, scale.from));
    bar.width = scale.at(Math.min(bar.start + bar.length, scale.to)) - bar.base;
  });
  return bars;
}

function barTraces(bars, rows) {
  const groups = Object.keys(plan.marks).map((kind) => [kind, bars.filter((bar) => bar.kind === kind)]).filter(([, group]) => group.length);
  groups.forEach(([, group], curve) => group.forEach((bar, point) => Object.assign(bar, { curve, point })));
  return groups.map(([kind, group]) => barTrace(kind, group, rows));
}

// Texts only on bars that are wide enough for them, and on no more bars than a browser sets without a wait.
function setTexts(bars, px) {
  const cuts = ({ kind, words }) => [words, words.split(" ")[0], SHAPES[kind] ? "" : words[0]];
  const fits = (bar) => cuts(bar).find((part) => part && bar.width * px > LETTER_PX * part.length + 3);
  const withText = bars.map((bar) => [bar, fits(bar)]).filter(([, part]) => part);
  bars.forEach((bar) => { bar.shown = ""; });
  withText.sort((a, b) => b[0].width - a[0].width).slice(0, plan.most.texts).forEach(([bar, part]) => { bar.shown = inert(part); });
}

function barTrace(kind, bars, rows) {
  const [offset, width] = shapeOf(kind, rows);
  return {
    type: "bar", orientation: "h", offset, width, meta: kind, showlegend: false, name: plan.marks[kind][1],
    base: bars.map((bar) => bar.base), x: bars.map((bar) => bar.width), y: bars.map((bar) => bar.row),
    text: bars.map((bar) => bar.shown), hovertext: bars.map((bar) => lines(bar.says())), hoverinfo: "text",
    customdata: bars.map((bar) => (bar.unit === undefined ? null : bar.unit)),
    textposition: bars.some((bar) => bar.shown) ? "inside" : "none", insidetextanchor: SHAPES[kind] ? "start" : "middle",
    textangle: 0, constraintext: "none", textfont: { color: INK, size: 11 }, marker: marker(kind),
  };
}

function marker(kind) {
  const [, , fill, hatch] = plan.marks[kind];
  const isFaint = kind === "weather" || kind === "shut";
  return {
    color: fill,
    line: { color: SHAPES[kind] ? FAINT : INK, width: isFaint ? 0 : 0.8 },
    pattern: { shape: hatch, fgcolor: isFaint ? FAINT : INK, fgopacity: isFaint ? 0.7 : 0.45, size: 5, solidity: 0.18, fillmode: "overlay" },
  };
}
