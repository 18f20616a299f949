// The chart: bays or people on top, loads below, all on one time axis.

const SIZES = { bays: 36, crew: 30, load: 74, gap: 30, top: 40, bottom: 40, left: 186, leftOnPhone: 74 };
const GRID = "#d5d9dc";
const CLOSED = "#e4e6e8";
const USED = "#2f6f8f";
const FONT = "system-ui, 'Liberation Sans', 'DejaVu Sans', sans-serif";
const SETTINGS = { responsive: false, displayModeBar: false, doubleClick: false, showTips: false };

function panels(rows) {
  const count = (rows === "bays" ? plan.rows.bays : plan.rows.crew).length;
  const heights = [Math.max(1, count) * SIZES[rows], ...plan.loads.map(() => SIZES.load)];
  const whole = heights.reduce((sum, height) => sum + height + SIZES.gap, 0);
  let down = 0;
  const domains = heights.map((height) => {
    const top = down + SIZES.gap;
    down = top + height;
    return [1 - down / whole, 1 - top / whole];
  });
  return { whole, domains };
}

// What there is as a heavy line, what is in use as a hatched area below it.
function loadTraces(scale) {
  return plan.loads.flatMap((load, i) => {
    const line = (level, word, style) => {
      const kept = steps(level, scale.from, scale.to);
      return {
        type: "scatter", mode: "lines", meta: "load", showlegend: false, xaxis: "x2", yaxis: `y${i + 2}`, name: word,
        x: kept.map(([minute]) => scale.at(minute)), y: kept.map(([, value]) => value), hoverinfo: "text",
        hovertext: kept.map(([minute, value]) => lines([`${load.name} ${word}: ${value} ${load.unit}`, `from ${moment(minute)}`])),
        ...style,
      };
    };
    const area = { fill: "tozeroy", fillcolor: "#e6eff4", line: { color: USED, width: 1.2, shape: "hv" },
      fillpattern: { shape: "/", fgcolor: USED, bgcolor: "#eef4f7", size: 6, solidity: 0.2 } };
    return [line(load.used, load.words[0], area), line(load.there, load.words[1], { line: { color: INK, width: 2, shape: "hv" } })];
  });
}

// Values of a level within a stretch, with the one that holds at its start and at its end.
function steps([minutes, values], from, to) {
  const before = minutes.findLastIndex((minute) => minute <= from);
  const inside = minutes.map((minute, i) => [minute, values[i]]).filter(([minute]) => minute > from && minute < to);
  const first = [from, before < 0 ? 0 : values[before]];
  const last = inside.length ? inside[inside.length - 1] : first;
  return [first, ...inside, [to, last[1]]];
}

function timeAxis(scale, widthPx, more) {
  const shown = ticks(scale, widthPx);
  return {
    type: "linear", range: [0, scale.width], fixedrange: true, tickmode: "array", tickvals: shown.map((tick) => scale.at(tick.minute)),
    ticktext: shown.map((tick) => tick.label), tickfont: { size: 11 }, tickangle: 0, gridcolor: GRID, zeroline: false, ticks: "outside",
    tickcolor: GRID, ...more,
  };
}

function layoutOf(rows, scale, widthPx) {
  const { whole, domains } = panels(rows);
  const labels = plan.rows[(isPhone() ? "short_" : "") + rows];
  const layout = {
    barmode: "overlay", height: whole + SIZES.top + SIZES.bottom, hovermode: "closest", dragmode: false, showlegend: false,
    margin: { l: isPhone() ? SIZES.leftOnPhone : SIZES.left, r: 12, t: SIZES.top, b: SIZES.bottom },
    font: { family: FONT, size: 12, color: INK }, paper_bgcolor: "#fff", plot_bgcolor: "#fff",
    hoverlabel: { bgcolor: "#fff", bordercolor: INK, font: { color: INK, size: 12 }, align: "left" },
    xaxis: timeAxis(scale, widthPx, { side: "top", anchor: "y" }),
    xaxis2: timeAxis(scale, widthPx, { side: "bottom", anchor: `y${domains.length}` }),
    yaxis: { domain: domains[0], anchor: "x", range: [Math.max(1, labels.length) - 0.5, -0.5], tickvals: labels.map((_, i) => i),
      ticktext: labels.map((label) => inert(label).replace("\n", "<br>")), fixedrange: true, gridcolor: GRID, zeroline: false },
    shapes: shapesOf(scale), annotations: domains.slice(1).map((domain, i) => title(plan.loads[i], domain[1])),
  };
  domains.slice(1).forEach((domain, i) => {
    layout[`yaxis${i + 2}`] = { domain, anchor: "x2", rangemode: "tozero", fixedrange: true, gridcolor: GRID, nticks: 4, zerolinecolor: GRID };
  });
  return layout;
}

function title(load, top) {
  const words = `<b>${inert(load.name)}</b>${load.unit ? `, ${load.unit}` : ""}: ${load.words[0]} (hatched), ${load.words[1]} (line)`;
  return { text: isPhone() ? `<b>${inert(load.name)}</b>` : words, x: 0, xref: "paper", xanchor: "left", y: top, yref: "paper",
    yanchor: "bottom", yshift: 3, showarrow: false, font: { size: 12, color: INK } };
}

function shapesOf(scale) {
  const across = { xref: "x", yref: "paper", y0: 0, y1: 1 };
  const shade = ([start, length]) => ({ ...across, type: "rect", layer: "below", fillcolor: CLOSED, line: { width: 0 },
    x0: scale.at(Math.max(start, scale.from)), x1: scale.at(Math.min(start + length, scale.to)) });
  const line = (minute, dash) => ({ ...across, type: "line", x0: scale.at(minute), x1: scale.at(minute), line: { color: INK, width: 2, dash } });
  const inView = (minute) => minute !== null && minute > scale.from && minute < scale.to;
  return [
    ...plan.closed.filter(([start, length]) => touches(start, length, scale.from, scale.to)).map(shade),
    ...[plan.forecast_until].filter(inView).map((minute) => line(minute, "dot")),
    ...[nowMinute()].filter(inView).map((minute) => line(minute, "dash")),
  ];
}

// Where a bar lies in the picture.
function boxOf(bar, rows, left, px) {
  const [offset, share] = shapeOf(bar.kind, rows);
  const top = SIZES.top + SIZES.gap + (bar.row + 0.5 + offset) * SIZES[rows];
  return { left: left + bar.base * px, top, width: bar.width * px, height: share * SIZES[rows] };
}

function draw(box, view, rows, isFolded, widthPx = box.clientWidth) {
  const scale = timeScale(view.from, view.to, isFolded);
  const left = isPhone() ? SIZES.leftOnPhone : SIZES.left;
  const inner = widthPx - left - 12;
  const bars = placedBars(rows, scale);
  setTexts(bars, inner / scale.width);
  const traces = [...barTraces(bars, rows), ...loadTraces(scale)];
  setWalk(bars, (bar) => boxOf(bar, rows, left, inner / scale.width));
  return Plotly.react(box, traces, { ...layoutOf(rows, scale, inner), width: widthPx }, SETTINGS);
}
const countBars = (rows, view) => barsOf(rows, view.from, view.to).length;
