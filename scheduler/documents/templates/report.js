// Draws the charts of the report, a stretch of time at a time, and lets people choose the stretch.
"use strict";
(() => {
  const read = (id) => JSON.parse(document.getElementById(id).textContent);
  const narrow = () => window.innerWidth < 700;
  const settings = { responsive: true, displayModeBar: false };
  const [plan, views, progress] = ["plan-data", "views-data", "progress-data"].map(read);
  const chart = document.getElementById("plan-chart");
  const perBar = ["base", "x", "y", "text", "hovertext"];
  const letterPx = 7;
  const week = 7 * 24 * 3600 * 1000;
  const longView = 1.5 * week;

  plan.data.forEach((trace) => { trace.hovertext = trace.hovertext.map((i) => plan.texts[i]); });

  // A table that is laid out in blocks on a phone loses its meaning for screen readers unless it is told.
  const roles = { TABLE: "table", THEAD: "rowgroup", TBODY: "rowgroup", TR: "row", TD: "cell" };
  document.querySelectorAll("table.stack, table.stack *").forEach((element) => {
    const role = roles[element.tagName] || (element.scope === "col" ? "columnheader" : element.scope ? "rowheader" : "");
    if (role) element.setAttribute("role", role);
  });

  const isBars = (trace) => trace.type === "bar";
  const inside = (trace, from, to) => trace.base.map((start, i) => i)
    .filter((i) => trace.base[i] < to && trace.base[i] + trace.x[i] > from);
  const countBars = (from, to) => plan.data.filter(isBars).reduce((sum, trace) => sum + inside(trace, from, to).length, 0);

  // Bars of a stretch, cut at its ends so that a text stays in sight.
  function cut(trace, from, to) {
    const kept = inside(trace, from, to);
    const part = { ...trace };
    perBar.forEach((key) => { part[key] = kept.map((i) => trace[key][i]); });
    part.x = kept.map((i) => Math.min(trace.base[i] + trace.x[i], to) - Math.max(trace.base[i], from));
    part.base = part.base.map((start) => Math.max(start, from));
    // An outline as wide as the bar itself would hide its fill.
    if (to - from > longView && trace.meta !== "stay") {
      part.marker = { ...trace.marker, line: { ...trace.marker.line, width: trace.marker.line.width / 4 } };
    }
    return part;
  }

  // Texts only on bars that are wide enough for them, and on no more bars than a browser sets without a wait.
  function thinTexts(traces, from, to) {
    const px = (chart.clientWidth - 120) / (to - from);
    const fits = (text, width) => [text, text.split(" ")[0]].find((part) => part && width > letterPx * part.length + 3);
    const shown = [];
    traces.forEach((trace, t) => trace.text.forEach((text, i) => {
      const width = trace.x[i] * px;
      const part = fits(text, width);
      if (part) shown.push([width, t, i, part]);
    }));
    traces.forEach((trace) => { trace.text = trace.text.map(() => ""); });
    shown.sort((a, b) => b[0] - a[0]).slice(0, views.most_texts).forEach(([, t, i, part]) => { traces[t].text[i] = part; });
  }

  function draw(view) {
    const { from, to } = view;
    const bars = plan.data.filter(isBars).map((trace) => cut(trace, from, to));
    thinTexts(bars, from, to);
    const layout = JSON.parse(JSON.stringify(plan.layout));
    Object.keys(layout).filter((key) => key.startsWith("xaxis")).forEach((key) => {
      layout[key].range = [from, to];
      layout[key].nticks = narrow() ? 4 : 8;
      if (to - from > longView) Object.assign(layout[key], { tick0: views.weeks[1].from, dtick: week });
    });
    layout.dragmode = narrow() ? false : "zoom";
    if (narrow()) {
      layout.yaxis.ticktext = views.short_bays;
      layout.yaxis2.ticktext = views.short_crew;
      layout.annotations.filter((note) => note.xref === "paper").forEach((title) => Object.assign(title, { xshift: -40 }));
    }
    const lines = plan.data.filter((trace) => !isBars(trace));
    return Plotly.react(chart, [...bars, ...lines], layout, settings);
  }

  function choices() {
    const whole = views.whole && countBars(views.whole.from, views.whole.to) <= views.most_bars;
    return whole ? [...views.weeks, views.whole] : views.weeks;
  }

  function controls() {
    const box = document.getElementById("views");
    if (views.weeks.length) box.append("Week of");
    const buttons = choices().map((view) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = view.label.replace("Week of ", "");
      button.setAttribute("aria-label", view.label);
      button.addEventListener("click", () => show(view));
      box.append(button);
      return [button, view];
    });
    const label = document.createElement("label");
    const days = document.createElement("select");
    label.append("One day: ", days);
    days.append(new Option("choose", ""));
    views.days.forEach((day, i) => days.append(new Option(day.label, i)));
    days.addEventListener("change", () => { if (days.value !== "") show(views.days[days.value]); });
    box.append(label);
    function show(view) {
      buttons.forEach(([button, own]) => button.setAttribute("aria-pressed", String(own.from === view.from && own.to === view.to)));
      days.value = String(views.days.findIndex((day) => day.from === view.from && day.to === view.to));
      if (days.selectedIndex < 0) days.value = "";
      current = view;
      draw(view);
    }
    return show;
  }

  let current = null;
  const show = controls();
  const first = narrow() ? views.days[0] : views.weeks[0];
  if (first) show(first);
  if (progress) Plotly.newPlot("progress-chart", progress.data, progress.layout, settings);

  // Paper has its own size: draw as wide as the sheet and make it small enough for the rest of the sheet, then go back.
  const paper = { width: 690, height: 820 };
  const onPaper = (div) => {
    const scale = Math.min(1, paper.height / div.layout.height);
    div.style.zoom = scale;
    return Plotly.relayout(div, { width: paper.width / scale, autosize: false });
  };
  const onScreen = (div) => {
    div.style.zoom = "";
    return Plotly.relayout(div, { width: null, autosize: true });
  };
  const redraw = (how) => document.querySelectorAll(".chart").forEach((div) => { if (div.layout) how(div); });
  window.addEventListener("beforeprint", () => redraw(onPaper));
  window.addEventListener("afterprint", () => redraw(onScreen));
  window.addEventListener("resize", () => { if (current && narrow() !== wasNarrow) { wasNarrow = narrow(); draw(current); } });
  let wasNarrow = narrow();
})();
